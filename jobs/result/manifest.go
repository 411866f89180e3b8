package result

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"proofmass/jobs/parquet"
	"proofmass/jobs/regular"
)

const (
	manifestFormat = "proofmass result"
	schemaVersion  = 2 // 1 listed every slice
	maxManifest    = 4 << 20
)

// Manifest says what a result folder holds and how it came about. Format, SchemaVersion and Check are set when it is written;
// Check is the SHA-256 of the manifest itself with Check empty, so that a changed manifest is found out.
type Manifest struct {
	Format        string `json:"format"`
	SchemaVersion int    `json:"schema_version"`
	Check         string `json:"check"`
	Finished      bool   `json:"finished"`
	Hopeless      string `json:"hopeless,omitempty"` // of one that is not finished: why the same run would never finish it

	Study       string            `json:"study"`
	StudyDigest string            `json:"study_digest"`   // see StudyDigest
	Numbers     string            `json:"numbers_digest"` // of what numbers depend on; the study's comments and free texts are not in it
	Seed        uint64            `json:"seed"`
	Rows        int64             `json:"rows"`
	Overrides   map[string]string `json:"overrides,omitempty"` // flag or field -> value on the command line

	Program string    `json:"program_version"`
	Go      string    `json:"go_version"`
	Host    Host      `json:"host"`
	Started time.Time `json:"started"`
	Ended   time.Time `json:"ended,omitzero"`

	Compressed bool `json:"compressed,omitempty"` // files of the sample are packed

	Given  map[string]Digest `json:"given"` // study.yaml and given/NAME
	Rounds []Round           `json:"rounds"`
	Tables map[string]Digest `json:"tables"` // summary.parquet, ...

	HalfWidth *float64 `json:"half_width_reached,omitempty"` // of indices

	Screened     []string           `json:"set_aside,omitempty"`      // inputs that screening found to do next to nothing
	Pairs        [][2]string        `json:"pairs,omitempty"`          // swapped at once
	IndexRuns    int64              `json:"index_runs,omitempty"`     // evaluations of the model for sensitivity, all stages
	PairsLeftOut int                `json:"pairs_left_out,omitempty"` // second-order indices wanted for which no runs were left
	Stopping     *Stopping          `json:"sample_half_widths,omitempty"`
	Evidence     *Weights           `json:"evidence,omitempty"`          // nil: nothing was measured
	Reduced      *Reduced           `json:"reduced_schedules,omitempty"` // nil: all steps of every schedule were taken
	Timings      map[string]float64 `json:"timings_seconds,omitempty"`
}

// Stopping is what a sample that grew has reached: the largest half-width of the
// chances, and of p05, p50 and p95 as a share of p95 - p05; nil is not known.
type Stopping struct {
	Chance      *float64 `json:"chance"`
	Percentiles *float64 `json:"percentiles"`
}

// Weights says how much the sample tells after what was measured.
type Weights struct {
	Facts        int            `json:"facts"`
	ESS          float64        `json:"effective_rows"`
	LargestShare float64        `json:"largest_share"`
	ParetoK      *float64       `json:"pareto_k"` // nil: the weights have no tail
	ParetoLimit  float64        `json:"pareto_limit"`
	LogEvidence  float64        `json:"log_evidence"`
	Method       EvidenceMethod `json:"method"`

	// Where populations were moved: the effective rows that weights would have left, rows of all
	// populations, powers of the likelihood, evaluations of the model.
	Weighed   float64 `json:"weighed_rows,omitempty"`
	Rows      int     `json:"moved_rows,omitempty"`
	Rounds    int     `json:"powers,omitempty"`
	ModelRuns int     `json:"moved_model_runs,omitempty"`
}

// Reduced says which schedules cars were driven over in fewer steps, and what was seen of it.
type Reduced struct {
	Schedules   []ReducedSchedule `json:"schedules"`
	Evaluations int64             `json:"evaluations"`     // cars over a schedule
	Outside     int64             `json:"outside_the_box"` // of them over all steps, since a number of theirs lay outside what the list was made for
	Checked     int64             `json:"checked"`         // of them over all steps too
	Worst       float64           `json:"worst_relative_error"`
	Redone      int64             `json:"slices_redone"` // over all steps: a checked one was more than 1e-9 off
}

// ReducedSchedule is one of them.
type ReducedSchedule struct {
	Schedule string  `json:"schedule"`
	Steps    int     `json:"steps"`                // moving ones that differ
	Points   int     `json:"points"`               // those that stay, with weights; all where reducing failed
	Worst    float64 `json:"worst_relative_error"` // of cars drawn to check the list when it was made
	List     string  `json:"list_sha256"`
}

// Host is where a study ran.
type Host struct {
	OS   string `json:"os"`
	Arch string `json:"arch"`
	CPUs int    `json:"cpus"`
}

// StudyDigest is the SHA-256 over study.yaml, the other files read (by their names in given/) and the overrides, each part
// preceded by its length, so that no two studies share one by moving a byte from part to part.
func StudyDigest(study []byte, given map[string][]byte, overrides map[string]string) string {
	h := sha256.New()
	part := func(b []byte) { fmt.Fprintf(h, "%d\n", len(b)); h.Write(b) }
	part(study)
	fmt.Fprintf(h, "given %d\n", len(given))
	for _, name := range slices.Sorted(maps.Keys(given)) {
		part([]byte(name))
		part(given[name])
	}
	for _, name := range slices.Sorted(maps.Keys(overrides)) {
		part([]byte(name))
		part([]byte(overrides[name]))
	}
	return hex.EncodeToString(h.Sum(nil))
}

// encode sets the fields that this package owns and returns the file.
func (m *Manifest) encode() ([]byte, error) {
	out := *m
	out.Format, out.SchemaVersion, out.Check = manifestFormat, schemaVersion, ""
	out.Started, out.Ended = out.Started.UTC(), out.Ended.UTC()
	if err := out.validate(); err != nil {
		return nil, err
	}
	plain, err := json.MarshalIndent(&out, "", "  ")
	if err != nil {
		return nil, err
	}
	out.Check = digestOf(plain).SHA256
	whole, err := json.MarshalIndent(&out, "", "  ")
	if len(whole) >= maxManifest {
		return nil, fmt.Errorf("%d bytes, a manifest has at most %d", len(whole), maxManifest)
	}
	return append(whole, '\n'), err
}

// ReadManifest reads the manifest of a result folder and checks it: format, version, its own digest, every name, digest and
// count. It does not look at the files; Verify does.
func ReadManifest(folder string) (*Manifest, error) {
	path := filepath.Join(folder, manifestName)
	f, size, err := regular.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if size > maxManifest {
		return nil, fmt.Errorf("%s: %w", path, damaged("%d bytes, a manifest has at most %d", size, maxManifest))
	}
	data, err := io.ReadAll(io.LimitReader(f, maxManifest))
	if err != nil {
		return nil, err
	}
	m, err := parseManifest(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", path, err)
	}
	return m, nil
}

// oursAtFirst is how a manifest of this program begins, whatever damage follows.
var oursAtFirst = regexp.MustCompile(`^\s*\{\s*"format"\s*:\s*"proofmass result"`)

// cutShort reports whether a file may be what is left of a manifest: nothing, or its first bytes.
func cutShort(data []byte) bool {
	const begins = `{"format":"proofmassresult"`
	left := strings.Join(strings.Fields(string(bytes.Trim(data, "\x00"))), "")
	return len(data) < 100 && strings.HasPrefix(begins, left)
}

// errVersion marks a manifest of another version of this program.
var errVersion = errors.New("another program version wrote it")

func parseManifest(data []byte) (*Manifest, error) {
	var head struct {
		Format        string `json:"format"`
		SchemaVersion int    `json:"schema_version"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		if !oursAtFirst.Match(data) && !cutShort(data) {
			return nil, fmt.Errorf("not a manifest of this program: %w", err)
		}
		return nil, damaged("%v", err)
	}
	if head.Format != manifestFormat {
		return nil, fmt.Errorf("not a manifest of this program: its format is %q, not %q", head.Format, manifestFormat)
	}
	if head.SchemaVersion != schemaVersion {
		return nil, fmt.Errorf("%w: schema version %d, this program knows %d", errVersion, head.SchemaVersion, schemaVersion)
	}
	if !whole(data) || dense(data) {
		return nil, damaged("it was changed after it was written")
	}
	m := new(Manifest)
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(m); err != nil {
		return nil, damaged("%v", err)
	}
	if again, err := m.encode(); err != nil {
		return nil, damaged("%v", err)
	} else if !bytes.Equal(again, data) {
		return nil, damaged("it was changed after it was written")
	}
	return m, nil
}

func damaged(what string, args ...any) error {
	return fmt.Errorf("%w: %s", parquet.ErrDamaged, fmt.Sprintf(what, args...))
}

// whole reports whether a manifest has the digest that it states, without decoding it.
func whole(data []byte) bool {
	const before, digits = `"check": "`, 2 * sha256.Size
	at := bytes.Index(data[:min(len(data), 256)], []byte(before)) + len(before)
	if at < len(before) || at+digits >= len(data) {
		return false
	}
	h := sha256.New()
	h.Write(data[:at])
	h.Write(data[at+digits : len(data)-1]) // the digest is made before the last newline is added
	return hex.EncodeToString(h.Sum(nil)) == string(data[at:at+digits])
}

// dense reports whether a manifest, of right digest or not, holds more items than one of its length that this program wrote: a
// short item that takes 4 bytes in a file may take 100 once it is decoded.
func dense(data []byte) bool {
	items := 0
	for _, mark := range []string{",", "{", "["} {
		items += bytes.Count(data, []byte(mark))
	}
	return items > len(data)/16+1000
}

func (m *Manifest) validate() error {
	if !isHexDigest(m.StudyDigest) {
		return fmt.Errorf("study_digest is no SHA-256")
	}
	if m.Numbers != "" && !isHexDigest(m.Numbers) {
		return fmt.Errorf("numbers_digest is no SHA-256")
	}
	if m.Rows < 0 {
		return fmt.Errorf("rows is %d", m.Rows)
	}
	for name, d := range m.Given {
		if !isGiven(name) || !d.valid() {
			return fmt.Errorf("given: %q", name)
		}
	}
	for name, d := range m.Tables {
		if !isTable(name) || !d.valid() {
			return fmt.Errorf("tables: %q", name)
		}
	}
	names := map[string]bool{}
	for i := range m.Rounds {
		r := &m.Rounds[i]
		if err := r.validate(); err != nil {
			return err
		}
		if name := fmt.Sprint(r.Choice, r.listFile()); names[name] {
			return fmt.Errorf("round %d of kind %s stands twice", r.Number, r.Kind)
		} else {
			names[name] = true
		}
	}
	return nil
}

func (d Digest) valid() bool { return d.Bytes >= 0 && isHexDigest(d.SHA256) }

func isHexDigest(s string) bool {
	b, err := hex.DecodeString(s)
	return err == nil && len(b) == sha256.Size && hex.EncodeToString(b) == s
}
