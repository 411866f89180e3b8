package page_test

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"proofmass/jobs/result"
)

// TestPair: among the draws of the announced pair as many are large discs as hold both
// claims, and those that hold lie in the washed corner.
func TestPair(t *testing.T) {
	folder := ranOnce(t, fmt.Sprintf(cars, carClaims, 512, "asked"))
	text := drawn(t, folder)
	paths, err := filepath.Glob(filepath.Join(folder, "samples", "*", "*.parquet"))
	if err != nil {
		t.Fatal(err)
	}
	samples, err := result.OpenSlices(paths)
	if err != nil {
		t.Fatal(err)
	}
	lighter, err := samples.Read("lighter", nil)
	if err != nil {
		t.Fatal(err)
	}
	further, err := samples.Read("further", nil)
	if err != nil {
		t.Fatal(err)
	}
	both := 0
	for i := range lighter {
		if lighter[i] == 1 && further[i] == 1 {
			both++
		}
	}
	if both == 0 || both == len(lighter) {
		t.Fatalf("%d of %d draws hold both: the test proves nothing", both, len(lighter))
	}
	_, rest, found := strings.Cut(text, `-pair-w-t`)
	if !found {
		t.Fatal("there is no figure of the pair")
	}
	picture, _, _ := strings.Cut(rest, "</svg>")
	discs := regexp.MustCompile(`<path class="f-none s-cand" stroke-linecap="round"[^>]*>`).FindString(picture)
	if n := strings.Count(discs, "h0"); n != both {
		t.Errorf("%d discs, want one for each of the %d draws that hold both", n, both)
	}
	if n := strings.Count(picture, "h0") - 2*both; n != len(lighter)-both { // discs lie on discs of ground
		t.Errorf("%d points, want %d", n, len(lighter)-both)
	}
	if want := fmt.Sprintf("of the %d drawn here %d hold both claims", len(lighter), both); !strings.Contains(text, want) {
		t.Errorf("no %q", want)
	}
	corner := regexp.MustCompile(`<path class="f-wash" d="M([0-9.]+) ([0-9.]+)L([0-9.]+) [0-9.]+L[0-9.]+ ([0-9.]+)`).FindStringSubmatch(picture)
	if corner == nil {
		t.Fatal("no washed corner")
	}
	var x1, y1, x2, y2, x, y float64
	fmt.Sscan(strings.Join(corner[1:], " "), &x1, &y1, &x2, &y2)
	for _, m := range regexp.MustCompile(`M([0-9.]+) ([0-9.]+)h0`).FindAllStringSubmatch(discs, -1) {
		if fmt.Sscan(m[1]+" "+m[2], &x, &y); x < x1-0.01 || x > x2+0.01 || y < y1-0.01 || y > y2+0.01 {
			t.Errorf("a draw that holds both lies at %v %v, outside %v", x, y, corner[1:])
		}
	}
}
