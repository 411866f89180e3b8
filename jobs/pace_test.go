package jobs

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/study"
)

// The time left is that of the work of each class at its own speed; a class that has none
// yet is thought as slow as others of the kind.
func TestPaceGoesByClass(t *testing.T) {
	at := time.Unix(1000, 0)
	p := pacer{slowness: &ofVehicles, unit: 1e-3}
	p.turn("sample", at)
	p.done[drawing] = 500
	all := [classes]int{drawing: 1000, swapping: 10_000, summing: 2000}
	got := p.pace(all, at.Add(time.Second))
	if want := 1 + 2e-3*0.11*10_000 + 1e-3*1.3*2000; math.Abs(got.Left.Seconds()-want) > 1e-6 || got.Doing != "sample" {
		t.Errorf("half of the sample in one second: %+v, want %v s left", got, want)
	}
	p.done[drawing] = 1000
	p.turn("index", at.Add(2*time.Second))
	p.done[swapping] = 2500
	got = p.pace(all, at.Add(7*time.Second))
	own := (5 + 2e-3*0.11*1000) / (2500 + 1000) // its thought speed weighs as much as a tenth of it
	if want := own*7500 + 1e-3*1.3*2000; math.Abs(got.Left.Seconds()-want) > 1e-6 || got.Elapsed != 7*time.Second {
		t.Errorf("a quarter of the swapped runs in five seconds: %+v, want %v s left", got, want)
	}
	p.done[swapping], p.done[summing] = 10_000, 2000
	if got = p.pace(all, at.Add(30*time.Second)); got.Left != 0 || got.Share() != 1 {
		t.Errorf("at the end: %+v", got)
	}
}

// BenchmarkTimeLeft tells by how many per cent of the time of a run the time left was wrong
// at worst, and half of the times, once a tenth of the run was over.
func BenchmarkTimeLeft(b *testing.B) {
	for name, rows := range map[string]int{"heron": 400_000, "certified-car": 400_000, "product": 4_000_000} {
		b.Run(name, func(b *testing.B) {
			for range b.N {
				var told []Pace
				o := Options{Out: filepath.Join(b.TempDir(), "out"), Pace: func(p Pace) { told = append(told, p) }}
				o.Study.Rows = rows
				began := time.Now()
				if _, err := Run(b.Context(), "../testdata/studies/"+name+".yaml", o); err != nil {
					b.Fatal(err)
				}
				whole := time.Since(began)
				worst, sum, n := 0.0, 0.0, 0
				for _, p := range told {
					if p.Elapsed < whole/10 {
						continue
					}
					off := math.Abs((p.Elapsed + p.Left - whole).Seconds()) / whole.Seconds()
					worst, sum, n = max(worst, off), sum+off, n+1
				}
				b.ReportMetric(100*worst, "%worst")
				b.ReportMetric(100*sum/float64(n), "%mean")
			}
		})
	}
}

// work is one entry of a recording: so many seconds of a stage, or of a step with its runs.
type work struct {
	doing   string
	rounds  int // of the index
	later   int // rounds that its half-widths foretold behind them
	seconds float64
}

// From the first tenth of a run on the time left is within a fifth of the whole run, of
// the work of runs as recorded on one loaded core; and none is told of the first rows.
func TestTimeLeftOfRecordedRuns(t *testing.T) {
	for name, recorded := range map[string][]work{
		"heron": {{"given", 0, 0, 0.01}, {"sample", 0, 0, 1.75}, {"index", 2, 0, 0.36}, {"index", 2, 4, 0.39}, {"index", 4, 0, 0.67},
			{"summary", 0, 0, 0.95}, {"inside", 0, 0, 0.08}, {"causes", 0, 0, 0.16}, {"levers", 0, 0, 0.25}, {"sensitivity", 0, 0, 1.73}, {"answer", 0, 0, 0.21}},
		"certified-car": {{"given", 0, 0, 0.01}, {"sample", 0, 0, 0.33}, {"index", 2, 0, 0.07},
			{"summary", 0, 0, 0.33}, {"inside", 0, 0, 0.08}, {"causes", 0, 0, 0.10}, {"levers", 0, 0, 0.19}, {"sensitivity", 0, 0, 0.56}, {"answer", 0, 0, 0.06}},
	} {
		p := planOf(t, "../testdata/studies/"+name+".yaml")
		at := time.Unix(1000, 0)
		whole := 0.0
		for _, w := range recorded {
			whole += w.seconds
		}
		var worst, firstTold float64
		c := newCounter(p, &analyse.Analyst{Plan: p}, nil)
		c.now = func() time.Time { return at }
		c.paced = func(now Pace) {
			if firstTold == 0 {
				firstTold = float64(c.pacer.done[drawing]) / float64(p.Sample.Rows)
			}
			if now.Elapsed.Seconds() >= whole/10 {
				off := (now.Elapsed+now.Left).Seconds()/whole - 1
				worst = max(worst, math.Abs(off))
			}
		}
		rounds := 0
		for _, w := range recorded {
			parts := 50
			if tasks, _ := c.work(w.doing, p.Sample.Rows); tasks > 0 {
				parts = tasks
			}
			step := &plan.Step{Kind: plan.Kind(w.doing), Plan: p, Later: w.later * p.Index.Rows * p.Index.Each()}
			switch w.doing {
			case "sample":
				step.Rounds = []plan.Round{p.SampleRound(0)}
			case "index":
				step.Swaps = p.Index.Swaps
				for range w.rounds {
					step.Rounds = append(step.Rounds, p.IndexRound(rounds))
					rounds++
				}
			default:
				c.begin(w.doing)
			}
			if step.Rounds != nil {
				c.announce(step)
			}
			done := 0
			for k := range parts {
				at = at.Add(time.Duration(w.seconds / float64(parts) * 1e9))
				if step.Rounds == nil {
					c.task()
					continue
				}
				share := step.Runs()*(k+1)/parts - done
				done += share
				c.tick(share)
			}
			if step.Rounds == nil {
				c.end()
			} else if w.doing == "index" {
				c.foresee(0) // or the next entry foretells more
			}
		}
		t.Logf("%s: first told after %.3f of the sample, at worst %.0f %% off", name, firstTold, 100*worst)
		if worst > 0.2 || firstTold < leastShare {
			t.Errorf("%s: first told after %.3f of the sample, at worst %.0f %% off", name, firstTold, 100*worst)
		}
	}
}

// A row of 200 inputs takes long, and says nothing of how long tables take: by it 40 minutes
// were told of a run of 8 seconds. Half of the sample took 1.3 s, all that followed 6.4.
func TestTimeLeftOfManyInputs(t *testing.T) {
	var s strings.Builder
	s.WriteString("format: 1\nstudy: many\nmodel: formulas\ninputs:\n")
	for i := range 200 {
		fmt.Fprintf(&s, "  a%d: {normal: {mean: 1, sd: 0.1}}\n", i)
	}
	s.WriteString("outputs:\n  y0: a0")
	for i := 1; i < 200; i++ {
		fmt.Fprintf(&s, " + a%d", i)
	}
	for i := 1; i < 40; i++ {
		fmt.Fprintf(&s, "\n  y%d: y0 * a%d", i, i)
	}
	path := filepath.Join(t.TempDir(), "many.yaml")
	if err := os.WriteFile(path, []byte(s.String()+"\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	p := planOf(t, path)
	at := time.Unix(1000, 0)
	c := newCounter(p, &analyse.Analyst{Plan: p}, nil)
	c.now = func() time.Time { return at }
	c.announce(&plan.Step{Kind: plan.Sample, Plan: p, Rounds: []plan.Round{p.SampleRound(0)}})
	at = at.Add(1300 * time.Millisecond)
	c.tick(p.Sample.Rows / 2)
	if left := c.pace().Left.Seconds(); left < 3 || left > 13 {
		t.Errorf("%.1f s left, 6.4 came", left)
	}
}

func planOf(t *testing.T, path string) *plan.Plan {
	t.Helper()
	s, err := Read(path, study.Options{})
	if err != nil {
		t.Fatal(err)
	}
	p, err := Planned(s)
	if err != nil {
		t.Fatal(err)
	}
	return p
}
