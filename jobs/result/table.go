package result

import (
	"fmt"
	"maps"
	"strconv"

	"proofmass/jobs/files"
	"proofmass/jobs/parquet"
)

// What a table is made of; the other rooms need not know in which format it is kept.
type (
	Table  = parquet.Table
	Column = parquet.Column
)

// maxRows bounds what a slice in the manifest can claim.
const maxRows = parquet.MaxRows

// MetaSchema is the key of the version of tables and columns in each file's metadata, which is the manifest's.
const MetaSchema = "schema_version"

// withVersion adds it.
func withVersion(meta map[string]string) map[string]string {
	all := map[string]string{MetaSchema: strconv.Itoa(schemaVersion)}
	maps.Copy(all, meta)
	return all
}

// writeTable writes the table to path, whole or not at all, and returns the file's digest. The same table gives the same bytes.
func writeTable(fs files.System, path string, t *Table) (Digest, error) {
	image, err := parquet.Encode(&Table{Columns: t.Columns, Meta: withVersion(t.Meta)})
	if err != nil {
		return Digest{}, fmt.Errorf("%s: %w", path, err)
	}
	return writeDigested(fs, path, image)
}
