package result

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Names of files in the folder.
const (
	StudyFile     = "study.yaml"
	SummaryTable  = "summary.parquet"
	IndicesTable  = "indices.parquet"
	TornadoTable  = "tornado.parquet"
	ClaimsTable   = "claims.parquet"
	CurvesTable   = "curves.parquet"
	RegionsTable  = "regions.parquet"
	JointTable    = "joint.parquet"
	ReadingsTable = "readings.parquet"
	RareTable     = "rare.parquet"
	TemperedTable = "tempered.parquet"
	EvidenceTable = "evidence.parquet"
	SummaryBefore = "summary_before.parquet"
	ClaimsBefore  = "claims_before.parquet"
	CausesTable   = "attribution.parquet"
	LeversTable   = "levers.parquet"
	RequiresTable = "requires.parquet"
	MeasureTable  = "measure_next.parquet"
	InsideTable   = "inside.parquet"
	ChoicesTable  = "choices.parquet"

	AccountsTable       = "accounts.parquet"
	AccountClaimsTable  = "account_claims.parquet"
	AccountOutputsTable = "account_outputs.parquet"

	IndexTable    = "index.parquet" // of many results, in the folder that holds theirs
	PageFile      = "report.html"   // drawn from the rest, so the manifest does not list it
	manifestName  = "manifest.json"
	givenFolder   = "given"
	samplesFolder = "samples"
	workFolder    = "work"
	LogFolder     = "log"    // what processes tell of their work; no part of the result
	SampleKind    = "sample" // the kind of a round whose slices lie in samples/
	givenPrefix   = givenFolder + "/"
	figuresFolder = "figures" // drawn from the rest, like the page
)

// figureKinds are the kinds of figure that the page has.
var figureKinds = []string{"accounts", "before", "causes", "changes", "choices", "curves", "energy", "evidence", "field", "gains", "ladder", "layers", "levels", "levers", "meant",
	"measure", "nested", "pair", "ranges", "rare", "regions", "requires", "said", "shares", "steps", "swings", "together", "two", "verdict", "verdicts"}

// figureName begins with what kind of figure it is, so that nobody else's picture is taken for ours.
var figureName = regexp.MustCompile(`^figures/(?:` + strings.Join(figureKinds, "|") + `)(?:[-.][A-Za-z0-9_.-]*)?\.(?:svg|png|csv)$`)

// tables lists the tables that are declared.
var tables = sync.OnceValue(func() (names []string) {
	for _, d := range Describe() {
		names = append(names, d.File)
	}
	return names
})

func isTable(name string) bool { return slices.Contains(tables(), name) }

// isGiven accepts study.yaml and given/NAME, NAME being one plain file name.
func isGiven(name string) bool {
	rest, ok := strings.CutPrefix(name, givenPrefix)
	if !ok {
		return name == StudyFile
	}
	return rest != "" && !strings.HasPrefix(rest, ".") && !strings.ContainsAny(rest, "/\\:\x00")
}

// SliceName returns the name of a slice's file in the folder: samples/0000/slice-00000000.parquet, and for other kinds of
// rounds work/KIND/0000/slice-00000000.parquet. Kind is a lower-case word, round is at most 9999, number at most 99999999.
func SliceName(kind string, round, number int) string {
	folder := samplesFolder
	if kind != SampleKind {
		folder = workFolder + "/" + kind
	}
	return fmt.Sprintf("%s/%04d/slice-%08d.parquet", folder, round, number)
}

var sliceName = regexp.MustCompile(`^(?:samples|work/([a-z]+))/([0-9]{4})/slice-[0-9]{8}\.parquet$`)

func parseSliceName(name string) (kind string, round int, ok bool) {
	m := sliceName.FindStringSubmatch(name)
	if m == nil || m[1] == SampleKind {
		return "", 0, false
	}
	round, err := strconv.Atoi(m[2])
	if m[1] == "" {
		return SampleKind, round, err == nil
	}
	return m[1], round, err == nil
}
