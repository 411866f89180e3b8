package jobs

import (
	"context"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"time"

	"proofmass/jobs/analyse"
	"proofmass/jobs/files"
	"proofmass/jobs/plan"
	"proofmass/jobs/report"
	"proofmass/jobs/report/page"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
)

// Options say how to run a study.
type Options struct {
	Study   study.Options
	Out     string // the result folder
	Replace bool   // take a folder that holds another study's result
	// Compress packs the files of the sample of a result that is begun; one that is there, whole or not, stays as it was begun.
	Compress bool
	Workers  int // 0: one a processor; never changes a number

	// Progress, if not nil, is told how many of all model runs are done; what tables take
	// counts as so many runs. It may be called from several goroutines.
	Progress func(done, of int)

	// Pace, if not nil, is told how far a run is in time, each time before Progress.
	Pace func(Pace)

	order  func([]plan.Slice) []plan.Slice // in which a round's slices are made; nil: theirs
	kept   func(plan.Key) error            // told of each part; all are stored
	shared bool                            // others make slices of the same rounds meanwhile
	budget analyse.Budget                  // of figures from the sample's own rows
	disk   files.System                    // nil: the real one
}

func (o *Options) system() files.System {
	if o.disk == nil {
		return files.Disk{}
	}
	return o.disk
}

// An Outcome is what became of a run.
type Outcome struct {
	Answer *report.Answer
	Again  bool // the folder held this very result already
	// Renewed tells that it held the result of a study that differs in its texts alone:
	// nothing was evaluated.
	Renewed bool
	// Mended is how many files of its sample were damaged and were made again: all else of
	// the result was whole.
	Mended int
	// Missed tells that a half-width asked for in the study was not reached, also of a result
	// that was there already.
	Missed bool
	Page   string // where the answer is drawn, "" if it is not
}

// Run runs the study at path into the result folder, or finds that it is there
// already, and reads the answer. Errors of the study are study.Errors.
func Run(ctx context.Context, path string, o Options) (*Outcome, error) {
	s, err := Read(path, o.Study)
	if err != nil {
		return nil, err
	}
	p, err := Planned(s)
	if err != nil {
		return nil, err
	}
	if err := result.Settle(o.system(), o.Out); err != nil {
		return nil, ofFolder(err)
	}
	mended := 0
	holds, _, err := lookInto(s, o)
	if err == nil && holds == toMake {
		err = fits(p, o, free)
	}
	switch {
	case err != nil:
	case holds == thisResult:
		err = result.Finish(o.system(), o.Out, o.Replace)
	default:
		holds, mended, err = evaluate(ctx, p, o)
	}
	if err != nil {
		return nil, err
	}
	answer, err := report.Read(o.Out)
	if err != nil {
		return nil, err
	}
	return &Outcome{Answer: answer, Again: holds == thisResult && mended == 0, Mended: mended, Renewed: holds == otherTexts, Missed: missed(s, answer), Page: pageOf(o.Out)}, nil
}

// pageOf is the path of a result's page. One that was there without a page gets it, where it
// may be written to; else it does without, which is no failure of a run that computed nothing.
func pageOf(folder string) string {
	path := filepath.Join(folder, result.PageFile)
	if _, err := os.Stat(path); err == nil {
		return path
	}
	if drawn, err := page.Write(folder, nil); err == nil {
		return drawn
	}
	return ""
}

// missed compares with the half-widths that the study itself states; the default
// one of indices is a wish.
func missed(s *study.Study, a *report.Answer) bool {
	if g := a.Run.Stopping; g != nil && !g.Reached() {
		return true
	}
	reached := a.Run.HalfWidthReached
	return s.Indices.HalfWidthStated && len(a.Decides) > 0 && (reached == nil || *reached > s.Indices.HalfWidth)
}

// evaluate makes the result, or renews the texts of the one that is there. It says what it
// found: another run may just have made it, or it was there but for some files of its sample.
func evaluate(ctx context.Context, p *plan.Plan, o Options) (holds found, mended int, err error) {
	at, old, mended, err := open(ctx, p, o)
	if at == nil || err != nil {
		return thisResult, mended, err
	}
	holds = toMake
	if state, begun, _ := result.Inspect(at.Path("")); old != nil {
		o.Compress = old.Compressed
	} else if state == result.Partial {
		o.Compress = begun.Compressed
	}
	j := newJob(ctx, p, at.Folder, o)
	j.journal = newJournal(o.Out, "run", about(p, o)...)
	defer func() { j.journal.end(err) }()
	if old != nil {
		holds, err = otherTexts, j.renew(ctx, at, old)
	} else {
		err = j.giveUp(j.stages(ctx))
	}
	return holds, 0, at.close(err)
}

// about is what a journal says of a run at its beginning.
func about(p *plan.Plan, o Options) []any {
	return []any{"study", p.Study.Name, "digest", Digest(p.Study), "seed", p.Study.Seed, "rows", p.Study.Rows, "workers", o.Workers}
}

// job carries one run through its stages.
type job struct {
	view
	folder   *result.Folder
	options  Options
	manifest *result.Manifest
	parts    *parts
	progress *counter
	seen     run.Seen
	means    []result.SummaryRow // of all draws, of the choice that is told
	focus    []int               // the choices of which sensitivity is told

	out     map[int]bool // choices whose files are gone
	journal *journal

	begun bool                                                  // its unfinished manifest is there
	gate  func(context.Context, *plan.Step, *plan.Joined) error // if not nil, lets a step pass or not
}

func newJob(ctx context.Context, p *plan.Plan, folder *result.Folder, o Options) *job {
	j := &job{folder: folder, options: o, manifest: newManifest(p), parts: newParts(folder, p.Study, o), out: map[int]bool{}}
	j.plan, j.analyst = p, &analyse.Analyst{Plan: p, Workers: o.Workers, Context: ctx, Budget: o.budget}
	j.manifest.Compressed = o.Compress
	folder.Pack(o.Compress)
	j.journal = &journal{log: slog.New(slog.DiscardHandler)}
	j.progress = newCounter(p, j.analyst, o.Progress)
	j.progress.paced = j.tellPace
	j.analyst.Tick = j.progress.task
	j.runner = &run.Runner{Plan: p, Workers: o.Workers, Tick: j.progress.tick, Seen: j.saw, Folder: folder, Meta: sampleMeta(p)}
	return j
}

// tellPace tells the journal too.
func (j *job) tellPace(p Pace) {
	j.journal.progress(p)
	if j.options.Pace != nil {
		j.options.Pace(p)
	}
}

// sampleMeta is what files of the sample say of the study as a whole.
func sampleMeta(p *plan.Plan) map[string]string { return map[string]string{"study": p.Study.Name} }

// stages goes through all of them. The manifest is written first, unfinished, and last,
// finished: a folder without a finished one is partial, and the same run goes on in it.
func (j *job) stages(ctx context.Context) error {
	if !j.begun {
		if err := j.folder.WriteManifest(j.manifest); err != nil {
			return err
		}
	}
	for _, stage := range []struct {
		name string
		do   func(context.Context) error
	}{{"given", j.given}, {"rounds", j.loop}, {"summary", j.summarise}, {"inside", j.inside}, {"causes", j.causes}, {"levers", j.levers}, {"sensitivity", j.sensitivity}} {
		began := time.Now()
		j.progress.begin(stage.name)
		if err := stage.do(ctx); err != nil {
			return fmt.Errorf("%s: %w", stage.name, err)
		}
		j.progress.end()
		j.manifest.Timings[stage.name] = time.Since(began).Seconds()
		j.journal.log.Info("stage", "name", stage.name, "seconds", time.Since(began).Seconds())
	}
	j.progress.begin("answer")
	return j.finish()
}

// giveUp puts down in the folder that the same run would end with this error again, if it would.
func (j *job) giveUp(err error) error {
	if analyse.Hopeless(err) {
		m := newManifest(j.plan)
		m.Compressed, m.Hopeless = j.manifest.Compressed, err.Error()
		_ = j.folder.WriteManifest(m) // what is wrong is said in any case
	}
	return err
}

// summarise joins the slices into the tables of statistics and claims.
func (j *job) summarise(ctx context.Context) error {
	if j.plan.Choosing != nil {
		return j.summariseChoices(ctx)
	}
	if err := j.summariseRows(ctx); err != nil {
		return err
	}
	return j.accounts(ctx)
}

// summariseRows is summarise for a study without choices.
func (j *job) summariseRows(ctx context.Context) error {
	tied, err := j.analyst.Tied()
	if err != nil {
		return err
	}
	if len(j.plan.Facts) > 0 {
		if err := j.evidence(); err != nil {
			return err
		}
	}
	meta := summaryMeta(j.plan)
	meta[report.MetaTied] = encode(tied)
	summary, err := j.analyst.Summary()
	if err != nil {
		return err
	}
	j.means = summary
	if err := j.write(result.SummaryTable, result.Summary.Make(summary, meta)); err != nil {
		return err
	}
	if len(j.plan.Claims) == 0 {
		return nil
	}
	if err := j.guesses(ctx); err != nil {
		return err
	}
	rare := j.analyst.Rare()
	claims, err := j.analyst.Claims()
	if err != nil {
		return err
	}
	if err := writeRows(j, result.Rare, rare); err != nil {
		return err
	}
	if err := j.write(result.ClaimsTable, result.Claims.Make(claims, nil)); err != nil {
		return err
	}
	read, err := j.analyst.Readings()
	if err != nil {
		return err
	}
	if err := writeRows(j, result.Readings, read); err != nil {
		return err
	}
	chance := map[string]float64{}
	for i := range claims {
		chance[claims[i].Claim] = claims[i].Chance
	}
	return j.joint(j.analyst, chance)
}

// joint makes the table of how the claims come together.
func (j *job) joint(of *analyse.Analyst, chance map[string]float64) error {
	rows, err := of.Joint(chance)
	if err != nil {
		return err
	}
	return writeRows(j, result.Joint, rows)
}

// evidence makes the tables of what was measured, and of what stood before it.
func (j *job) evidence() error {
	rows, told, err := j.analyst.Evidence()
	if err != nil {
		return err
	}
	j.manifest.Evidence = told
	if err := j.write(result.EvidenceTable, result.Evidence.Make(rows, nil)); err != nil {
		return err
	}
	if err := j.before(); err != nil {
		return err
	}
	j.runner.After = j.analyst.Tempered()
	if j.runner.After == nil {
		return nil
	}
	if j.manifest.Tables[result.TemperedTable], err = j.runner.WriteTempered(j.runner.After); err != nil {
		return err
	}
	return j.analyst.GoAfter(j.folder.Path(result.TemperedTable), j.runner.After)
}

// before makes the tables of what stood before what was measured.
func (j *job) before() error {
	before := j.analyst.Before()
	summary, err := before.Summary()
	if err != nil {
		return err
	}
	if err := j.write(result.SummaryBefore, result.Earlier.Summary.Make(summary, nil)); err != nil || len(j.plan.Claims) == 0 {
		return err
	}
	claims, err := before.Claims()
	if err != nil {
		return err
	}
	return j.write(result.ClaimsBefore, result.Earlier.Claims.Make(claims, nil))
}

// writeRows writes a table that is there only where it has rows.
func writeRows[Row any](j *job, t *result.Typed[Row], rows []Row) error {
	if len(rows) == 0 {
		return nil
	}
	return j.write(t.File, t.Make(rows, nil))
}

func (j *job) write(name string, t *result.Table) error {
	digest, err := j.folder.WriteTable(name, t)
	j.manifest.Tables[name] = digest
	return err
}
