package jobs

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"time"

	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/report"
	"proofmass/jobs/report/page"
	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// Version is the program's own, as tables and manifest state it.
const Version = "0.2.0"

// A UsageError is one that the person at the keyboard can mend: exit code 2.
type UsageError struct{ Err error }

func (e *UsageError) Error() string { return e.Err.Error() }
func (e *UsageError) Unwrap() error { return e.Err }

// Read reads a study. One that lies in a result folder is read as it was run: with
// the rows and the seed that its manifest says the command line gave, unless o
// gives others.
func Read(path string, o study.Options) (*study.Study, error) {
	for _, folder := range o.ReadFolders {
		if err := IsFolder(folder); err != nil {
			return nil, &UsageError{fmt.Errorf("--read: %w", err)}
		}
	}
	if m, err := result.ReadManifest(filepath.Dir(path)); err == nil && filepath.Base(path) == result.StudyFile {
		if rows, err := strconv.Atoi(m.Overrides["rows"]); err == nil && o.Rows == 0 {
			o.Rows = rows
		}
		if seed, err := strconv.ParseUint(m.Overrides["seed"], 10, 64); err == nil && o.Seed == nil {
			o.Seed = &seed
		}
		o.Name = m.Study
	}
	return study.Read(path, o)
}

// IsFolder says in plain words what is wrong with the name of a folder.
func IsFolder(path string) error {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no such folder", path)
	case err != nil:
		return err
	case !info.IsDir():
		return fmt.Errorf("%s is a file; a folder is wanted", path)
	}
	return nil
}

// Digest identifies a study: its bytes, those of the files it uses, overrides.
func Digest(s *study.Study) string {
	given := map[string][]byte{}
	for _, f := range s.Files[1:] {
		given[f.Name] = f.Data
	}
	return result.StudyDigest(s.Files[0].Data, given, s.Overrides)
}

// found is what a result folder holds of a study.
type found int

const (
	toMake     found = iota // nothing, something unfinished, or what will be replaced
	thisResult              // this very study, finished and whole
	otherTexts              // the same to the numbers, finished and whole, with its rows
)

// lookInto says what the folder holds. One that holds something else is refused.
func lookInto(s *study.Study, o Options) (found, *result.Manifest, error) {
	if err := mayBeFolder(o.Out); err != nil {
		return toMake, nil, &UsageError{fmt.Errorf("--out: %w", err)}
	}
	state, m, err := result.Inspect(o.Out)
	switch {
	case state == result.Unreadable && o.Replace, state == result.Empty:
		return toMake, nil, nil
	case state == result.Unreadable:
		return toMake, nil, refuse(o, "%w; give another folder, or --replace", err)
	case err != nil:
		return toMake, nil, refuse(o, "%w; give another folder", err)
	case o.Replace && !ofThis(s, m):
		return toMake, nil, nil
	case m.Numbers != s.NumbersDigest:
		return toMake, nil, refuse(o, "it holds another result (%s); give another folder, or --replace", differs(s, m))
	case m.Program != Version:
		return toMake, nil, refuse(o, "it holds this study's result by version %s of the program, and this is version %s; give another folder, or --replace", m.Program, Version)
	case state == result.Partial, result.Verify(o.Out) != nil:
		return toMake, nil, nil
	case m.StudyDigest == Digest(s):
		return thisResult, m, nil
	case s.Keep == "summary", m.Evidence != nil && m.Evidence.Method == result.ByTempering: // there are no rows from which tables could be made, or not those of all
		return toMake, nil, nil
	}
	return otherTexts, m, nil
}

// differs names what makes another result of the one that a folder holds.
func differs(s *study.Study, m *result.Manifest) string {
	var all []string
	say := func(what string, there, here any) {
		if there != here {
			all = append(all, fmt.Sprintf("%s %v there, %v here", what, there, here))
		}
	}
	say("study", m.Study, s.Name)
	say("seed", m.Seed, s.Seed)
	say("--rows", orNone(m.Overrides["rows"]), orNone(s.Overrides["rows"]))
	for i, f := range s.Files {
		if old, known := m.Given[givenName(i, f)]; !known || old.SHA256 != f.Digest {
			all = append(all, filepath.Base(f.Name)+" has other bytes")
		}
	}
	if len(all) == 0 {
		return "of the same files, read otherwise by the program that made it"
	}
	return strings.Join(all, "; ")
}

func orNone(flag string) string {
	if flag == "" {
		return "not given"
	}
	return flag
}

func refuse(o Options, format string, args ...any) error {
	return &UsageError{fmt.Errorf("--out %s: %w", o.Out, fmt.Errorf(format, args...))}
}

// ofThis reports whether a result is by this very program, of a study with the same numbers.
func ofThis(s *study.Study, m *result.Manifest) bool {
	return m.Numbers == s.NumbersDigest && m.Program == Version
}

// mayBeFolder says what is wrong with the name of a folder that need not exist.
func mayBeFolder(path string) error {
	_, leads := os.Stat(path)
	if errors.Is(leads, syscall.ELOOP) {
		return fmt.Errorf("%s: links on its way lead round in a circle; give another folder", path)
	}
	info, err := os.Lstat(path)
	if err == nil && info.Mode()&os.ModeSymlink != 0 && errors.Is(leads, fs.ErrNotExist) {
		return fmt.Errorf("%s is a link to what does not exist; make the folder it names, or give another", path)
	}
	if of := resultAround(path); of != "" {
		return fmt.Errorf("%s lies inside the result %s, whose files are its own; give a folder beside it", path, of)
	}
	if err != nil {
		return nil // nothing is there, or what is wrong is said when it is made
	}
	return IsFolder(path)
}

// resultAround is the result folder in which a path lies, "" if in none.
func resultAround(path string) string {
	at, err := filepath.Abs(path)
	if err != nil {
		return ""
	}
	for up := filepath.Dir(at); up != at; at, up = up, filepath.Dir(up) {
		if state, _, _ := result.Inspect(up); state == result.Partial || state == result.Finished || state == result.Unreadable {
			return up
		}
	}
	return ""
}

// ofFolder is an error about the folder of results: it can be mended at the keyboard, by another folder, unless the system has
// no more to give.
func ofFolder(err error) error {
	wrong := fmt.Errorf("--out %w", err)
	for _, none := range []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EMFILE, syscall.ENFILE, syscall.EIO} {
		if errors.Is(err, none) {
			return wrong
		}
	}
	return &UsageError{wrong}
}

// A site is where a run writes: the result folder, or inside it beside a result that stays
// whole until the new one is.
type site struct {
	*result.Folder
	lock *result.Lock
}

// open locks the folder and makes it ready, unless it holds this very result: another run
// may have made it meanwhile. What is there of an unfinished result of the same study goes on;
// old is the manifest of a result whose texts alone differ. Files of the sample that are damaged
// are made again where nothing else is: then nothing is to be made.
func open(ctx context.Context, p *plan.Plan, o Options) (at *site, old *result.Manifest, mended int, err error) {
	s := p.Study
	lock, err := result.LockOn(o.system(), o.Out)
	if err != nil {
		return nil, nil, 0, ofFolder(err)
	}
	defer func() {
		if at == nil {
			lock.Release()
		}
	}()
	if err := lock.Folder().Settle(); err != nil {
		return nil, nil, 0, err
	}
	holds, old, err := lookInto(s, o)
	if err != nil || holds == thisResult {
		return nil, nil, 0, err
	}
	folder := lock.Folder()
	if err := folder.InTheWay(givenNames(s)); err != nil {
		return nil, nil, 0, ofFolder(err)
	}
	if state, m, _ := result.Inspect(o.Out); holds == toMake && state == result.Finished && ofThis(s, m) && m.StudyDigest == Digest(s) {
		if mended, err = mend(ctx, p, folder, m, o); mended > 0 || err != nil {
			return nil, nil, mended, err
		}
	}
	same := func(m *result.Manifest) bool { return ofThis(s, m) }
	if state, m, _ := result.Inspect(o.Out); state != result.Empty && !(state == result.Partial && same(m)) {
		if folder, err = folder.Next(same); err != nil {
			return nil, nil, 0, ofFolder(err)
		}
	}
	return &site{folder, lock}, old, 0, folder.Tidy()
}

// close puts a result that was made beside another in its place, if no error kept it from
// being finished, draws its page, and gives the folder free.
func (s *site) close(err error) error {
	defer s.lock.Release()
	if err != nil {
		return s.leave(err)
	}
	if err := s.lock.Folder().Settle(); err != nil {
		return err
	}
	return page.Draw(s.lock.Folder())
}

// leave says what stays beside an old result when the new one is not finished, say on a full
// disk. What no run could go on with is removed.
func (s *site) leave(err error) error {
	if s.Path("") == s.lock.Folder().Path("") {
		return err
	}
	if s.GoesOn() && !analyse.Hopeless(err) {
		return fmt.Errorf("%w; the old result is whole, and what was made of the new one stays in %s until the same command goes on with it", err, s.Path(""))
	}
	_ = s.Discard() // else the next run does
	return err
}

// givenName is the name under which the folder keeps file number i of a study.
func givenName(i int, f study.File) string {
	if i == 0 {
		return result.StudyFile
	}
	return "given/" + f.Name
}

func givenNames(s *study.Study) []string {
	var names []string
	for i, f := range s.Files {
		names = append(names, givenName(i, f))
	}
	return names
}

// newManifest lists the given files before they are written, so that a folder of a
// run that was stopped between the two is still known to be ours.
func newManifest(p *plan.Plan) *result.Manifest {
	given := map[string]result.Digest{}
	for i, f := range p.Study.Files {
		given[givenName(i, f)] = result.Digest{SHA256: f.Digest, Bytes: int64(len(f.Data))}
	}
	return &result.Manifest{
		Study: p.Study.Name, StudyDigest: Digest(p.Study), Numbers: p.Study.NumbersDigest, Seed: p.Study.Seed, Rows: int64(p.Study.Rows), Overrides: p.Study.Overrides,
		Program: Version, Go: runtime.Version(), Started: time.Now(),
		Host:  result.Host{OS: runtime.GOOS, Arch: runtime.GOARCH, CPUs: runtime.NumCPU()},
		Given: given, Tables: map[string]result.Digest{}, Timings: map[string]float64{},
	}
}

// summaryMeta is what the summary table says of the study as a whole.
func summaryMeta(p *plan.Plan) map[string]string {
	s := p.Study
	meta := map[string]string{
		"study": s.Name, report.MetaAbout: s.About, report.MetaModel: s.Model, report.MetaDesign: s.Design, report.MetaBaseline: s.Baseline,
		report.MetaNote:           p.Note(),
		report.MetaContradictions: encode(p.Contradictions), report.MetaOdd: strconv.Itoa(p.OddSizes()), report.MetaSlips: encode(p.Slips),
		report.MetaHeadline: encode(s.Headline()), report.MetaSilent: encode(s.Silent()), report.MetaBelowNil: encodeMap(s.BelowNil()),
		report.MetaLeftOut: encode(p.LeftOut), report.MetaWarnings: encode(slices.Concat(p.Warnings(), p.Together(), p.Question(), p.Unstated(), p.Conventions())),
	}
	if len(s.Withdrawn) > 0 {
		meta[report.MetaWithdrawn] = encode(each(s.Withdrawn, func(w study.Withdrawn) report.Withdrawn { return report.Withdrawn(w) }))
	}
	if len(s.History) > 0 {
		meta[report.MetaHistory] = encode(each(s.History, func(e study.Event) report.Event { return report.Event(e) }))
	}
	if len(s.ShowIn) > 0 {
		meta[report.MetaShowIn] = encode(s.ShowIn)
	}
	if s.Stopping.Chance > 0 {
		meta[report.MetaChance] = strconv.FormatFloat(s.Stopping.Chance, 'g', -1, 64)
	}
	if s.Stopping.Percentiles > 0 {
		meta[report.MetaPercentiles] = strconv.FormatFloat(s.Stopping.Percentiles, 'g', -1, 64)
	}
	if !s.Indices.None {
		meta[report.MetaHalfWidth] = strconv.FormatFloat(s.Indices.HalfWidth, 'g', -1, 64)
	}
	return meta
}

// encode writes a list as JSON, an empty one as [].
func encode[T any](list []T) string {
	text, err := json.Marshal(append([]T{}, list...))
	if err != nil {
		return ""
	}
	return string(text)
}

// encodeOne writes one value as JSON.
func encodeOne(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		return ""
	}
	return string(text)
}

// stored is a name as columns have it.
func stored(name string) string { return plan.Column{Name: name}.Stored() }

// encodeMap writes a map as JSON, its keys in alphabetical order.
func encodeMap(m map[string]string) string {
	text, err := json.Marshal(m)
	if err != nil {
		return ""
	}
	return string(text)
}

// each is f of every element.
func each[A, B any](all []A, f func(A) B) []B {
	done := make([]B, len(all))
	for i, x := range all {
		done[i] = f(x)
	}
	return done
}
