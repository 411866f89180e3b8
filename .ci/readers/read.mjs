// read.mjs FILE...: two readers that share no code with ours, DuckDB and hyparquet, decode every value of each file and must
// agree to the last bit; then what the file says of itself is compared with its values: least, greatest and nulls, in footer
// and page index, places of pages, sorting, metadata. Exit 1 where anything differs.
import { DuckDBInstance } from '@duckdb/node-api'
import { parquetMetadata, parquetReadObjects, readColumnIndex, readOffsetIndex } from 'hyparquet'
import { compressors } from 'hyparquet-compressors'
import { readFileSync } from 'node:fs'

const db = await (await DuckDBInstance.create(':memory:', { threads: '2', autoinstall_known_extensions: 'false', autoload_known_extensions: 'false' })).connect()
const quote = s => "'" + s.replaceAll("'", "''") + "'", name = s => '"' + s.replaceAll('"', '""') + '"'
const number = v => typeof v === 'bigint' ? Number(v) : v
let bad = 0, values = 0, indexed = 0, packed = 0
for (const path of process.argv.slice(2)) {
  const wrong = what => { bad++; console.error(path + ': ' + what) }
  const bytes = readFileSync(path), file = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength)
  const meta = parquetMetadata(file), rows = await parquetReadObjects({ file, metadata: meta, compressors })
  const theirs = (await db.runAndReadAll(`select * from read_parquet(${quote(path)})`)).getColumnsObject()
  const columns = meta.schema.slice(1).map(s => s.name)
  if (rows.length !== Number(meta.num_rows)) wrong(`footer says ${meta.num_rows} rows, hyparquet reads ${rows.length}`)
  for (const c of columns) {
    let differ = theirs[c].length !== rows.length
    for (let i = 0; i < rows.length; i++) differ ||= !Object.is(number(rows[i][c] ?? null), number(theirs[c][i] ?? null))
    if (differ) wrong(`${c}: the two readers differ`)
    values += rows.length
  }
  const said = Object.fromEntries((meta.key_value_metadata ?? []).map(x => [x.key, x.value]))
  if (!/^[0-9]+$/.test(said.schema_version)) wrong(`schema_version is ${said.schema_version}`)
  for (const s of meta.schema.slice(1)) if (s.type === 'DOUBLE' && !said[`column.${s.name}.unit`] && !said[`column.${s.name}.meaning`]) wrong(`${s.name} has no unit and no meaning`)
  if (meta.column_orders && meta.column_orders.length !== columns.length) wrong('an order of values for each column is missing')
  let first = 0
  for (const g of meta.row_groups) {
    const n = Number(g.num_rows)
    if (n > 1 << 20) wrong(`a row group of ${n} rows`)
    g.columns.forEach((chunk, i) => {
      const c = columns[i], m = chunk.meta_data, all = rows.slice(first, first + n).map(r => number(r[c] ?? null)).filter(v => v !== null)
      if (m.codec === 'ZSTD') packed++
      const low = all.reduce((a, v) => v < a ? v : a, all[0]), high = all.reduce((a, v) => v > a ? v : a, all[0])
      const check = (where, min, max, nulls) => {
        if (Number(nulls) !== n - all.length) wrong(`${c}: ${where} says ${nulls} nulls, there are ${n - all.length}`)
        // an empty text is no value in a footer; longer ones than 64 bytes are not told
        if (all.length && min !== undefined && number(min) != low) wrong(`${c}: ${where} says least ${min}, it is ${low}`)
        if (all.length && max !== undefined && number(max) != high) wrong(`${c}: ${where} says greatest ${max}, it is ${high}`)
        if (all.length && m.type !== 'BYTE_ARRAY' && (min === undefined || max === undefined)) wrong(`${c}: ${where} tells no least or greatest`)
      }
      check('the footer', m.statistics?.min_value, m.statistics?.max_value, m.statistics?.null_count)
      const part = (at, size) => ({ view: new DataView(file, Number(at), size), offset: 0 })
      const place = readOffsetIndex(part(chunk.offset_index_offset, chunk.offset_index_length)).page_locations
      if (place.length !== 1 || place[0].offset !== m.data_page_offset || BigInt(place[0].compressed_page_size) !== m.total_compressed_size) wrong(`${c}: the index of places`)
      if (chunk.column_index_length) {
        const x = readColumnIndex(part(chunk.column_index_offset, chunk.column_index_length), meta.schema[1 + i])
        indexed++
        if (x.null_pages[0] !== (all.length === 0)) wrong(`${c}: a page of nulls`)
        check('the page index', x.min_values[0], x.max_values[0], x.null_counts[0])
      } else if (m.type !== 'BYTE_ARRAY') wrong(`${c}: there is no page index`)
    })
    const by = (g.sorting_columns ?? []).map(s => columns[s.column_idx])
    if (path.includes('/samples/') && by.join() !== 'choice,row') wrong(`said to be sorted by ${by}`)
    for (let i = first + 1; i < first + n; i++) {
      const k = by.find(c => rows[i][c] !== rows[i - 1][c])
      if (k && rows[i][k] < rows[i - 1][k]) { wrong(`row ${i} is out of order`); break }
    }
    first += n
  }
  // a reader that passes over what statistics rule out finds as many as one that reads all
  const numeric = meta.schema.slice(1).find(s => s.type === 'DOUBLE')?.name
  if (numeric && rows.length) {
    const some = rows.map(r => r[numeric]).filter(v => v != null).sort((a, b) => a - b), at = some[Math.floor(some.length / 2)]
    if (at !== undefined) {
      const found = (await db.runAndReadAll(`select count(*) n from read_parquet(${quote(path)}) where ${name(numeric)} >= ${at}`)).getRowObjects()[0].n
      if (Number(found) !== some.filter(v => v >= at).length) wrong(`${numeric} >= ${at}: DuckDB finds ${found}`)
    }
  }
}
console.log(`${process.argv.length - 2} files: two readers agree on ${values} values; ${indexed} columns with a page index, ${packed} packed`)
process.exit(bad > 0 || values === 0 ? 1 : 0)
