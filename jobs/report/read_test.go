package report

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// folderWith is a finished result folder that holds a summary of two rows and no
// other table.
func folderWith(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "result")
	folder, err := result.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	digest, err := folder.WriteTable(result.SummaryTable, result.Summary.Make([]result.SummaryRow{
		{Output: "x", Quantity: "x", Unit: "m", Role: result.RoleInput, Origin: result.Stated, Method: "none", Min: 0, P05: 1, P50: 2, P95: 3, Max: 4},
		{Output: "y", Quantity: "y", Unit: "m", Role: result.RoleOutput, Origin: result.Computed, Method: "none", Min: 3, P05: 4, P50: 5, P95: 6, Max: 7},
	}, map[string]string{MetaAbout: "about it", MetaDesign: "latin"}))
	if err != nil {
		t.Fatal(err)
	}
	m := &result.Manifest{Study: "s", StudyDigest: result.StudyDigest(nil, nil, nil), Finished: true, Rows: 100, Tables: map[string]result.Digest{result.SummaryTable: digest}}
	if err := folder.WriteManifest(m); err != nil {
		t.Fatal(err)
	}
	return path
}

// A study may ask for no claims and no indices: the answer then speaks of what there
// is, without empty headings.
func TestReadWithoutClaimsAndIndices(t *testing.T) {
	a, err := Read(folderWith(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(a.Sizes) != 1 || a.Sizes[0].Name != "y" || *a.Sizes[0].P50 != 5 || a.Claims == nil || a.Decides == nil {
		t.Errorf("sizes %+v, claims %v, decides %v", a.Sizes, a.Claims, a.Decides)
	}
	var b strings.Builder
	if err := a.Text(&b, TextOptions{Folder: "r", Full: true}); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	if strings.Contains(text, "DO THE CLAIMS HOLD?") || strings.Contains(text, "WHAT DECIDES IT?") || !strings.Contains(text, "4 to 6 m") {
		t.Errorf("%s", text)
	}
}

func TestReadOfWhatIsMissing(t *testing.T) {
	path := folderWith(t)
	if err := os.Remove(filepath.Join(path, result.SummaryTable)); err != nil {
		t.Fatal(err)
	}
	if _, err := Read(path); err == nil || !strings.Contains(err.Error(), result.SummaryTable) {
		t.Errorf("a table that the manifest lists is gone: %v", err)
	}
	if _, err := Read(t.TempDir()); err == nil {
		t.Error("an empty folder was read")
	}
}

func TestGrouped(t *testing.T) {
	for n, want := range map[int64]string{0: "0", 7: "7", 999: "999", 1000: "1,000", 131072: "131,072", 1234567: "1,234,567", -999: "-999", -1000: "-1,000"} {
		if got := Grouped(n); got != want {
			t.Errorf("%d: %s, want %s", n, got, want)
		}
	}
}

func TestLeftOutSaysEachReasonOnce(t *testing.T) {
	b := page{width: usualWidth}
	writeLeftOut(&b, []LeftOut{{"a", "not given: x"}, {"b", "not given: y"}, {"c", "not given: x"}})
	if want := "  Left out: a, c (not given: x).\n  Left out: b (not given: y).\n"; b.String() != want {
		t.Errorf("%q, want %q", b.String(), want)
	}
}

// No size is written beyond the width of a terminal: long units, numbers with
// exponents, counts of infeasible draws.
func TestSizesKeepToTheWidth(t *testing.T) {
	for _, s := range []Size{
		{Vehicle: strings.Repeat("v", 60), Quantity: "heat_change", Spread: Spread{Unit: "W/(m2 K)", P05: ptr(-2907), P50: ptr(-1438), P95: ptr(-289)}},
		{Quantity: "big", Infeasible: 131072, Spread: Spread{Unit: "kg2 m2/s3", P05: ptr(-2.91e23), P50: ptr(-1.4e23), P95: ptr(-1.41e22)}},
		{Quantity: "none", Infeasible: 4096, Spread: Spread{Unit: "kg"}},
	} {
		b := page{width: usualWidth}
		(&Answer{}).writeSize(&b, s.Quantity, true, s)
		for _, line := range strings.Split(b.String(), "\n") {
			if len([]rune(line)) > 80 {
				t.Errorf("%d columns: %q", len([]rune(line)), line)
			}
		}
	}
}
