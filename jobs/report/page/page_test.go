package page_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"proofmass/jobs"
	"proofmass/jobs/report/page"
)

// ran runs a study and returns its folder.
func ran(t *testing.T, study string) string {
	t.Helper()
	path, out := filepath.Join(t.TempDir(), "study.yaml"), filepath.Join(t.TempDir(), "result")
	if err := os.WriteFile(path, []byte(study), 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := jobs.Run(context.Background(), path, jobs.Options{Out: out}); err != nil {
		t.Fatal(err)
	}
	return out
}

// kept are the folders of studies that several tests look at.
var kept struct {
	sync.Mutex
	root  string
	ready map[string]func(*testing.T) string // by study
}

func TestMain(m *testing.M) {
	var err error
	if kept.root, err = os.MkdirTemp("", "proofmass-page"); err != nil {
		panic(err)
	}
	kept.ready = map[string]func(*testing.T) string{}
	code := m.Run()
	os.RemoveAll(kept.root)
	os.Exit(code)
}

// ranOnce is ran for tests that leave the folder as it is: each study is run once.
func ranOnce(t *testing.T, study string) string {
	t.Helper()
	kept.Lock()
	ready := kept.ready[study]
	if ready == nil {
		folder := filepath.Join(kept.root, fmt.Sprint(len(kept.ready)))
		var once sync.Once
		ready = func(t *testing.T) string {
			once.Do(func() {
				if err := os.Rename(ran(t, study), folder); err != nil {
					t.Error(err)
				}
			})
			return folder
		}
		kept.ready[study] = ready
	}
	kept.Unlock()
	return ready(t)
}

func drawn(t *testing.T, folder string) string {
	t.Helper()
	text, err := page.Render(folder)
	if err != nil {
		t.Fatal(err)
	}
	again, err := page.Render(folder)
	if err != nil || string(again) != string(text) {
		t.Errorf("drawn again the page has other bytes (%v)", err)
	}
	wellFormed(t, string(text))
	return string(text)
}

var tag = regexp.MustCompile(`<(/?)([a-zA-Z][a-zA-Z0-9]*)((?:\s+[a-zA-Z:-]+(?:="[^"<>]*")?)*)\s*(/?)>`)

// wellFormed allows the elements that the page is made of and no other, each closed in its
// turn, no attribute that acts, and no < that begins none of them.
func wellFormed(t *testing.T, text string) {
	t.Helper()
	for _, raw := range []string{"style", "script"} {
		text = regexp.MustCompile(`(?s)<`+raw+`>.*?</`+raw+`>`).ReplaceAllString(text, "")
	}
	text = strings.TrimPrefix(text, "<!doctype html>\n")
	allowed := " html head meta title body a header p b span h1 h2 h3 nav ul li main section div i figure figcaption svg desc defs pattern path circle text " +
		"details summary table thead tbody tr th td dl dt dd pre code br "
	var open []string
	for _, m := range tag.FindAllStringSubmatch(text, -1) {
		switch name := m[2]; {
		case !strings.Contains(allowed, " "+name+" "):
			t.Errorf("element %s: %s", name, m[0])
		case regexp.MustCompile(`\son[a-z]+=|javascript:|https?:`).MatchString(m[3]):
			t.Errorf("attribute that acts: %s", m[0])
		case m[4] == "/" || name == "meta" || name == "br":
		case m[1] == "":
			open = append(open, name)
		case len(open) == 0 || open[len(open)-1] != name:
			t.Fatalf("</%s> closes %v", name, open)
		default:
			open = open[:len(open)-1]
		}
	}
	if rest := tag.ReplaceAllString(text, ""); strings.Contains(rest, "<") || len(open) > 0 {
		at := strings.Index(rest, "<")
		t.Errorf("markup that is none at %q; left open %v", rest[max(at, 0):min(at+80, len(rest))], open)
	}
}

// hostile is text of a stranger who means ill.
const hostile = "<script>alert(1)</script> \"quoted\" 'so' & </td></table> <img src=x onerror=alert(1)> javascript:alert(1)"

const hostileStudy = `
format: 1
study: %[1]s
about: %[1]s
model: formulas
inputs:
  width: {between: [1 m, 2 m], source: %[1]s, note: %[1]s, link: %[1]s, how_known: guess}
  height: {between: [1 m, 3 m], source: %[2]s}
outputs:
  area: {formula: width * height, unit: m2, meaning: %[1]s}
claims:
  large: {of: area, announced: 3 m2, rounded_to: 0.2 m2, sense: at_least, said_by: %[1]s, source: %[1]s}
  small: {holds: area < 1 m2}
sample: {rows: 1024}
`

// TestStrangersText: no text of a study becomes markup, however long or odd.
func TestStrangersText(t *testing.T) {
	quoted := "'" + strings.ReplaceAll(hostile, "'", "''") + "'"
	long := "'" + strings.Repeat("0123456789", 100) + "\u202etxt.exe\u0007'"
	text := drawn(t, ran(t, fmt.Sprintf(hostileStudy, quoted, "'"+strings.Repeat("abc ", 200)+"'")))
	if !strings.Contains(text, "&lt;script&gt;alert(1)") {
		t.Error("the hostile text does not stand on the page: the test proves nothing")
	}
	if strings.Count(text, "<script") != 1 {
		t.Errorf("%d scripts, want the page's own", strings.Count(text, "<script"))
	}
	text = drawn(t, ran(t, fmt.Sprintf(hostileStudy, strings.ReplaceAll(long, "\u0007", ""), "x")))
	if strings.ContainsAny(text, "\u202e\u0007") {
		t.Error("a character that steers how text is shown stands on the page")
	}
}

// TestLongTexts: texts of 10,000 characters without a blank, as long names as there may be and
// markup in both: figures as files, the page and a comparison hold them as text, in their room.
func TestLongTexts(t *testing.T) {
	endless := "'" + strings.ReplaceAll(hostile, "'", "''") + strings.Repeat("x", 10_000) + "'"
	name := "n" + strings.Repeat("x", 62)
	text := strings.NewReplacer("area", name, "large", "l"+name, "sample: {rows: 1024}", "indices: none\nsample: {rows: 512}").Replace(fmt.Sprintf(hostileStudy, endless, endless))
	folder, later := ran(t, text), ran(t, strings.Replace(text, "[1 m, 2 m]", "[1 m, 2.2 m]", 1))
	c := since(t, folder, later)
	if n, err := page.WriteFigures(later, []string{"svg"}, c); err != nil || n < 5 {
		t.Fatalf("%d figures, %v", n, err)
	}
	files, err := filepath.Glob(filepath.Join(later, "figures", "*.svg"))
	if err != nil || len(files) == 0 {
		t.Fatal(files, err)
	}
	for _, file := range files {
		picture, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if strings.Contains(string(picture), "<script") || len(filepath.Base(file)) > 120 {
			t.Errorf("%s: markup of a stranger's, or a long name", filepath.Base(file))
		}
	}
	all, err := page.LaidOut(later)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range all {
		words(t, l)
	}
	alone, err := page.RenderComparison(c)
	if err != nil {
		t.Fatal(err)
	}
	for what, text := range map[string]string{"page": drawn(t, later), "comparison": string(alone)} {
		wellFormed(t, text)
		if strings.Count(text, "<script") != 1 || len(text) > 1_000_000 {
			t.Errorf("the %s has %d scripts and %d bytes", what, strings.Count(text, "<script"), len(text))
		}
		_, head, _ := strings.Cut(text, "<title>")
		if title, _, _ := strings.Cut(head, "</title>"); len(title) > 1000 {
			t.Errorf("the title of the %s has %d bytes", what, len(title))
		}
	}
	var told strings.Builder
	if err := c.Text(&told, 80); err != nil || strings.ContainsAny(told.String(), "\u202e\x1b") {
		t.Errorf("%v: a comparison at a terminal holds what steers it", err)
	}
}

const cars = `
format: 1
study: two-cars
model: vehicle
inputs:
  drag_coefficient: {between: [0.25, 0.27]}
  frontal_area: 2.31 m2
  rolling_coefficient: {normal: {mean: 0.0087, sd: 0.0004}}
  usable_share: 94 %%
vehicles:
  before: {kerb_mass: 1733(12) kg, pack_mass: 391(8) kg, pack_energy: 61(1) kWh}
  after: {based_on: before, pack_mass: {between: [331 kg, 352 kg]}}
%s
sample: {rows: %d}
keep: %s
`

const carClaims = `
claims:
  lighter: {of: after.kerb_mass_change, announced: -3 %, rounded_to: 1 %, sense: at_least}
  further: {of: after.label_range_change, announced: 2 %, rounded_to: 1 %, sense: about}
`

// TestSections: what stands on the page of a study with claims, without, and without draws.
func TestSections(t *testing.T) {
	for _, x := range []struct {
		name, claims, keep string
		want, not          []string
	}{
		{"claims", carClaims, "asked", []string{`id="verdicts"`, `id="said"`, `id="large"`, `id="decides"`, `id="assumed"`, `id="made"`, `id="beware"`, "Both claims", "19 in 20", `-pair"`}, nil},
		{"no draws kept", carClaims, "summary", []string{`id="said"`}, []string{"19 in 20</text>", `-pair"`}},
		{"no claims", "", "asked", []string{"This study claims nothing", `id="large"`}, []string{`id="said"`}},
	} {
		t.Run(x.name, func(t *testing.T) {
			text := drawn(t, ranOnce(t, fmt.Sprintf(cars, x.claims, 512, x.keep)))
			for _, want := range x.want {
				if !strings.Contains(text, want) {
					t.Errorf("no %q", want)
				}
			}
			for _, not := range x.not {
				if strings.Contains(text, not) {
					t.Errorf("there is %q", not)
				}
			}
		})
	}
}

// TestUnfinished: a folder without an answer has no page, and says so.
func TestUnfinished(t *testing.T) {
	if _, err := page.Render(t.TempDir()); err == nil {
		t.Error("an empty folder has a page")
	}
}

// TestWithoutValue: draws without a value are told before the verdicts, the curve of chance
// counts them as not holding, and no limit is said to stand.
func TestWithoutValue(t *testing.T) {
	text := drawn(t, ran(t, `
format: 1
study: roots
model: formulas
inputs:
  width: {between: [1 m, 2 m]}
  height: {between: [-0.5 m, 2 m]}
outputs:
  side: {formula: sqrt(width * height), unit: m}
claims:
  large: {of: side, announced: 0.4 m, rounded_to: 0.1 m, sense: at_least}
sample: {rows: 1024}
`))
	first, verdicts := strings.Index(text, `<section id="first"`), strings.Index(text, `<section id="verdicts"`)
	if first < 0 || first > verdicts || !strings.Contains(text[first:verdicts], "of 1,024 draws what large rests on has no value") {
		t.Error("nothing is said of draws without a value before the verdicts")
	}
	if strings.Contains(text, "would stand") || strings.Contains(text, "would have stood") {
		t.Error("a limit is said to stand though percentiles leave draws without a value out")
	}
	dot := regexp.MustCompile(`<circle class="f-ink s-ground" cx="[^"]*" cy="([^"]*)" r="4.5"`).FindStringSubmatch(text)
	chance := regexp.MustCompile(`chance of the claim</th><td class="words">%</td><td>([^<]*)<`).FindStringSubmatch(text)
	if dot == nil || chance == nil {
		t.Fatal("no dot on the curve, or no chance")
	}
	y, _ := strconv.ParseFloat(dot[1], 64)
	per, _ := strconv.ParseFloat(chance[1], 64)
	if got := 100 * (212 - y) / 142; got < per-0.1 || got > per+0.1 {
		t.Errorf("the dot lies at %.2f %%, the chance is %s %%", got, chance[1])
	}
}

// TestManyClaims: more claims than a reader takes in one by one get a line each, and figures
// are drawn of the few nearest to an edge.
func TestManyClaims(t *testing.T) {
	claims := "claims:\n"
	for i := range 30 {
		claims += fmt.Sprintf("  c%d: {of: after.kerb_mass_change, announced: -%d.%d %%, rounded_to: 0.1 %%, sense: at_least}\n", i, 1+i/10, i%10)
	}
	text := drawn(t, ran(t, strings.Replace(fmt.Sprintf(cars, claims, 512, "asked"), "sample:", "indices: none\nsample:", 1)))
	if n := strings.Count(text, `class="claim"`); n != 0 {
		t.Errorf("%d claims have a picture of their own", n)
	}
	if n := strings.Count(text, "-said-w-t"); n == 0 || n > 2*6 {
		t.Errorf("%d figures of what was said", n/2)
	}
	for i := range 30 {
		if !strings.Contains(text, fmt.Sprintf(">c%d</text>", i)) {
			t.Errorf("claim c%d has no line", i)
		}
	}
}

// TestFigures: each figure is written in both sizes with its numbers, the same bytes each
// time; what is in the folder's figures of somebody else's stays.
func TestFigures(t *testing.T) {
	folder := ran(t, strings.Replace(fmt.Sprintf(cars, carClaims, 256, "asked"), "sample:", "indices: none\nsample:", 1))
	read := func() map[string]string {
		if _, err := page.WriteFigures(folder, []string{"svg"}, nil); err != nil {
			t.Fatal(err)
		}
		files := map[string]string{}
		entries, err := os.ReadDir(filepath.Join(folder, "figures"))
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			text, err := os.ReadFile(filepath.Join(folder, "figures", e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			files[e.Name()] = string(text)
		}
		return files
	}
	first := read()
	for _, name := range []string{"said-lighter.svg", "said-lighter.narrow.svg", "said-lighter.talk.svg", "said-lighter.talk.dark.svg", "said-lighter.csv", "verdict-further.svg", "levels.csv"} {
		if first[name] == "" {
			t.Errorf("there is no %s", name)
		}
	}
	if csv := first["levels.csv"]; !strings.Contains(csv, "after.kerb_mass,kg,") || strings.Contains(csv, "−") {
		t.Errorf("levels.csv: %s", csv)
	}
	for _, mine := range []string{"mine.svg", "said-old.svg"} {
		if err := os.WriteFile(filepath.Join(folder, "figures", mine), []byte("x"), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	again := read()
	if again["mine.svg"] != "x" || again["said-old.svg"] != "" {
		t.Error("somebody else's picture went, or one of an older answer stayed")
	}
	for name, text := range first {
		if again[name] != text {
			t.Errorf("%s has other bytes", name)
		}
		if strings.HasSuffix(name, ".svg") && !strings.Contains(text, "two-cars · ") {
			t.Errorf("%s does not say of which study it is", name)
		}
	}
}

const rare = `
format: 1
study: seldom
model: formulas
inputs: {a: {one_of: {0: 0.9, 1: 0.1}}, b: {one_of: {0: 0.98, 1: 0.02}}}
outputs: {y: a * b, always: 1 + 0 * a}
indices: {half_width: 0.05, at_most: 6000}
sample: {rows: 4096}
`

// TestFiguresWithoutIntervals: what seldom acts has indices without an interval, and what
// never changes no spread; the page says what there is.
func TestFiguresWithoutIntervals(t *testing.T) {
	folder := ranOnce(t, rare)
	if text := drawn(t, folder); strings.Contains(text, "NaN") {
		t.Error("a number that is none stands on the page")
	}
	if n, err := page.WriteFigures(folder, []string{"svg", "png"}, nil); err != nil || n < 2 {
		t.Errorf("%d figures, %v", n, err)
	}
}
