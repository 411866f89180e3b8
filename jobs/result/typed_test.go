package result

import (
	"math"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"proofmass/jobs/files"
)

// promised are the columns on which everyone's notebooks rely: more may be added, none of these is renamed, moved to another
// kind or dropped. It is written out here and not made from the declarations, so that changing one of those fails.
var promised = map[string]string{
	"summary.parquet": `choice:counts output:text vehicle:text quantity:text unit:text rows:counts infeasible:counts mean:numbers mean_low:numbers
		mean_high:numbers sd:numbers skewness:numbers min:numbers max:numbers p01:numbers p05:numbers p10:numbers p25:numbers p50:numbers p75:numbers
		p90:numbers p95:numbers p99:numbers p05_low:numbers p05_high:numbers p50_low:numbers p50_high:numbers p95_low:numbers p95_high:numbers
		coverage:numbers cover_low:numbers cover_high:numbers shortest_low:numbers shortest_high:numbers method:text negative:counts role:text
		origin:text how_known:text stated_as:text source:text meaning:text`,
	"indices.parquet": `choice:counts output:text of:text input:text other:text method:text order:text estimate:numbers low:numbers high:numbers
		model_runs:counts dropped:numbers evidence:text`,
	"tornado.parquet": `choice:counts output:text of:text input:text form:text input_low:numbers input_high:numbers at_low:numbers at_high:numbers
		swing:numbers unit:text input_unit:text shape:text at_low_from:numbers at_low_to:numbers at_high_from:numbers at_high_to:numbers
		sum_of_swings:numbers spread:numbers`,
	"claims.parquet": `choice:counts claim:text text:text chance:numbers chance_low:numbers chance_high:numbers method:text held:counts failed:counts
		chance_halved:numbers chance_doubled:numbers guessed_widths:counts defaults:counts width_rows:counts
		infeasible:counts rows:counts effective_rows:numbers margin_p05:numbers margin_p50:numbers margin_p95:numbers unit:text of:text
		announced_in:text said_by:text source:text announced:numbers rounded_to:numbers limit:numbers sense:text side:text verdict:text`,
	"choices.parquet": `choice:counts chosen:text rows:counts dropped_in:numbers dropped_for:numbers best:text front:text`,
	"curves.parquet": `choice:counts output:text of:text input:text class:counts input_low:numbers input_high:numbers input_mid:numbers mean:numbers
		low:numbers high:numbers unit:text input_unit:text`,
	"regions.parquet": `choice:counts claim:text input:text input_unit:text held:counts failed:counts holds_p10:numbers holds_p50:numbers
		holds_p90:numbers fails_p10:numbers fails_p50:numbers fails_p90:numbers distance:numbers distance_low:numbers distance_high:numbers
		distance_floor:numbers shift:counts chance_lowest:numbers chance_lowest_low:numbers chance_lowest_high:numbers chance_highest:numbers
		chance_highest_low:numbers chance_highest_high:numbers`,
	"joint.parquet": `choice:counts account:text claim:text given:text chance:numbers low:numbers high:numbers both:counts rows:counts`,
	"rare.parquet": `claim:text side:text level:counts at:numbers unit:text chance:numbers chance_low:numbers chance_high:numbers share:numbers
		populations:counts step:numbers taken:numbers model_runs:counts reached:counts used:counts`,
	"evidence.parquet": `account:text fact:counts of:text value:numbers sd:numbers unit:text prior_percentile:numbers others_percentile:numbers odd:counts
		ess:numbers largest_share:numbers pareto_k:numbers log_evidence:numbers method:text`,
	"tempered.parquet":        `row:counts replicate:counts weight:numbers`,
	"accounts.parquet":        `account:text weight_before:numbers weight_after:numbers low:numbers high:numbers weight_halved:numbers weight_doubled:numbers ess:numbers`,
	"account_claims.parquet":  `account:text claim:text chance:numbers chance_low:numbers chance_high:numbers method:text verdict:text`,
	"account_outputs.parquet": `account:text output:text unit:text mean:numbers p05:numbers p50:numbers p95:numbers`,
	"claims_before.parquet":   `choice:counts claim:text chance:numbers`,
	"summary_before.parquet":  `choice:counts output:text mean:numbers`,
	"attribution.parquet": `choice:counts account:text about:text output:text cause:text part_of:text mean:numbers mean_low:numbers mean_high:numbers
		p05:numbers p50:numbers p95:numbers unit:text rows:counts model_runs:counts`,
	"levers.parquet": `choice:counts account:text vehicle:text lever:text text:text output:text mean:numbers mean_low:numbers mean_high:numbers
		p05:numbers p50:numbers p95:numbers unit:text rows:counts`,
	"requires.parquet": `choice:counts account:text claim:text input:text side:text central:numbers needed:numbers unit:text percentile:numbers
		distance:numbers rank:counts typical_p10:numbers typical_p50:numbers typical_p90:numbers half_at:numbers turns_at:numbers
		point_distance:numbers first_order_chance:numbers method:text`,
	"measure_next.parquet": `choice:counts account:text claim:text item:text error:numbers price:numbers risk:numbers gain:numbers gain_low:numbers
		gain_high:numbers variance_share:numbers gain_per_price:numbers rank:counts method:text`,
	"inside.parquet": `choice:counts figure:text output:text vehicle:text quantity:text unit:text rows:counts infeasible:counts mean:numbers
		p05:numbers p25:numbers p50:numbers p75:numbers p95:numbers meaning:text`,
	"index.parquet": `folder:text file:text study:text error:text rows:counts seed:text claim:text text:text verdict:text chance:numbers
		chance_low:numbers chance_high:numbers`,
	"readings.parquet": `combination:counts claim:text of:text text:text chance:numbers low:numbers high:numbers method:text held:counts rows:counts`,
	"record.parquet": `folder:text study:text study_digest:text predicted:text measured_on:text came:text output:text kind:text unit:text
		value:numbers sd:numbers p05:numbers p50:numbers p95:numbers inside:numbers place:numbers crps:numbers interval_score:numbers
		chance:numbers brier:numbers guess:numbers guess_sd:numbers guess_score:numbers width_to_guess:numbers announced:numbers
		announced_score:numbers`,
}

func TestColumnsAreAPromise(t *testing.T) {
	for _, d := range append(Describe(), DescribeIndex(), DescribeRecord()) {
		there := map[string]bool{}
		for _, c := range d.Columns {
			there[c.Name+":"+c.Holds] = true
			if c.Meaning == "" {
				t.Errorf("%s: %s has no meaning", d.File, c.Name)
			}
			if c.Holds == "numbers" && c.Unit == "" {
				t.Errorf("%s: %s is a number without a unit", d.File, c.Name)
			}
		}
		if promised[d.File] == "" {
			t.Errorf("%s: nothing is promised of it", d.File)
		}
		for _, want := range strings.Fields(promised[d.File]) {
			if !there[want] {
				t.Errorf("%s: column %s is renamed, of another kind or gone", d.File, want)
			}
		}
	}
	if len(Describe())+2 != len(promised) || len(tables())+2 != len(promised) {
		t.Errorf("%d tables are declared, %d named, %d promised", len(Describe()), len(tables()), len(promised))
	}
}

// claimsIn writes claims.parquet, changed, to a result folder of its own.
func claimsIn(t *testing.T, rows []ClaimRow, change func(*Table)) (string, *Manifest) {
	t.Helper()
	table := Claims.Make(rows, map[string]string{"key": "value"})
	change(table)
	folder := t.TempDir()
	digest, err := writeTable(files.Disk{}, filepath.Join(folder, ClaimsTable), table)
	if err != nil {
		t.Fatal(err)
	}
	return folder, &Manifest{Tables: map[string]Digest{ClaimsTable: digest}}
}

func TestRowsComeBack(t *testing.T) {
	rows := []ClaimRow{
		{Claim: "a", Chance: 0.25, ChanceLow: 0.2, ChanceHigh: 0.3, Method: "wilson", Held: 1, Rows: 4, Unit: "kg", Sense: AtLeast, Side: Below, Verdict: InDoubt},
		{Claim: "b", Text: "all", Method: "none", Rows: 4, Verdict: Falls},
	}
	folder, m := claimsIn(t, rows, func(*Table) {})
	got, meta, err := Claims.Read(folder, m)
	if err != nil || !reflect.DeepEqual(got, rows) || meta["key"] != "value" {
		t.Errorf("%+v, %v, %v; want %+v", got, meta, err, rows)
	}
	if got, _, err := Claims.Read(folder, &Manifest{}); got != nil || err != nil {
		t.Errorf("of a table that no manifest lists: %v, %v", got, err)
	}
	table := Claims.Make([]ClaimRow{{MarginP05: math.Inf(-1), MarginP50: math.NaN()}}, nil)
	for _, name := range []string{"margin_p05", "margin_p50"} {
		if x := table.Column(name).Floats[0]; x == x {
			t.Errorf("%s is %g, want null", name, x)
		}
	}
}

// A column that is renamed, gone or of another kind is an error that names file and column, never a silent empty value.
func TestReadingMissesNoColumn(t *testing.T) {
	rows := []ClaimRow{{Claim: "a", Method: "wilson", Verdict: TooFew}}
	for _, d := range Claims.columns {
		for what, change := range map[string]func(*Table){
			"renamed": func(table *Table) { table.Column(d.Name).Name += "s" },
			"of another kind": func(table *Table) {
				c := table.Column(d.Name)
				*c = Column{Name: c.Name, Bools: []bool{true}}
			},
		} {
			folder, m := claimsIn(t, rows, change)
			if _, _, err := Claims.Read(folder, m); err == nil || !strings.Contains(err.Error(), ClaimsTable) || !strings.Contains(err.Error(), "column "+d.Name+" ") {
				t.Errorf("%s %s: error %v", d.Name, what, err)
			}
		}
	}
	folder, m := claimsIn(t, rows, func(table *Table) { table.Column("method").Texts[0] = "guesswork" })
	if _, _, err := Claims.Read(folder, m); err == nil || !strings.Contains(err.Error(), `column method: row 0: found "guesswork"; the words are replicates, wilson`) {
		t.Errorf("a word of no list: error %v", err)
	}
}

// A table with further columns, of a later version of the program, is read by an older one.
func TestReadLeavesOtherColumns(t *testing.T) {
	folder := t.TempDir()
	table := Claims.Make([]ClaimRow{{Claim: "lighter", Method: "replicates", Verdict: Falls}}, nil)
	table.Columns = append([]Column{{Name: "new", Texts: []string{"x"}}}, append(table.Columns, Column{Name: "newer", Bools: []bool{true}})...)
	digest, err := writeTable(files.Disk{}, filepath.Join(folder, ClaimsTable), table)
	if err != nil {
		t.Fatal(err)
	}
	rows, meta, err := Claims.Read(folder, &Manifest{Tables: map[string]Digest{ClaimsTable: digest}})
	if err != nil || len(rows) != 1 || rows[0].Claim != "lighter" || meta[MetaSchema] == "" {
		t.Errorf("%+v, %v, %v", rows, meta, err)
	}
}
