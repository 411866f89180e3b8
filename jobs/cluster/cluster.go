// Package cluster hands the slices of a study to a batch scheduler, round by round: an
// array job makes them, and a job that depends on its end joins them and submits the next
// round. Nothing stays running between the two, and nothing is shared but the result
// folder.
//
// What a night of eight hours does, on paper, from figures measured on two shared cores (CPU
// time; README has the table). A row of a trade space of cars with 87 columns takes 24
// microseconds: 12 in the slices, 12 in the join, which reads all rows for their statistics;
// on disk 700 bytes. A row of a single study with its share of sensitivity, eight runs of the
// model, takes 29, of which the join has two fifths.
//
//   - 2 cores have 58,000 s: 2.4e9 such rows, more than the 1e9 that one study may have, which
//     take 3.3 hours and 700 GB. The disk is what ends first; --compress takes half to three
//     fifths of it, rows of choices that leave the race are never made, and keep: summary
//     removes those that were.
//   - 64 cores of one machine, by run, which evaluates and joins on all of them: 1e9 rows take
//     6 to 7 minutes of computing, and writing and reading 700 GB takes longer than that on a
//     disk of 1 GB/s. From there on the disk sets the pace: about 17 cores keep such a one busy.
//   - 1,000 nodes: the slices of 1e9 rows are 12,000 s, an array of 20 tasks of ten minutes;
//     with more tasks waiting in the queue costs more than it spares. The join then takes its
//     12,000 s on one processor: against one core a cluster makes a trade space at most twice as
//     fast, a single study two and a half times, and further nodes add nothing. Where swapped
//     rows are most of the work (many inputs, a small half-width) the parts are sums of some
//     kilobytes, the join hardly counts, and it scales to as many tasks as the largest round
//     has slices: 16 replicates, one slice for each 8192 rows of one.
//   - So what a thousand nodes are for is many studies, each run whole on a node of its own,
//     one folder each: that scales with the nodes, since nothing is shared but the file system.
//
// Other bounds: a list of 160,000 slices a round, an array as long as the scheduler allows
// (1,000 by default), some ten file operations a slice on the shared file system.
package cluster

import (
	"context"
	"errors"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"proofmass/jobs"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
)

// Options say what to submit and how.
type Options struct {
	Study   string        // the study file
	Run     jobs.Options  // Out and how the study is read
	Wait    time.Duration // for slices that another host has made and that are not seen yet
	Program string        // path of this program on every host

	With []string // further options of the scheduler for each job, such as --partition=long
	Most int      // tasks in an array; 0: as many as the scheduler allows
	Dry  bool     // submit nothing

	Round, Attempt int // how often a round was submitted before; a join tells the next
}

// What a task of an array is meant to take, and a round that is made on the spot: waiting
// in the queue would take longer (common practice, no source).
const (
	taskTakes = 10 * time.Minute
	onTheSpot = 20 * time.Second
)

// mostAttempts is how often what is missing of a round is submitted.
const mostAttempts = 3

// Submitted is what became of it: the answer where the study is finished, else the jobs.
type Submitted struct {
	*jobs.Outcome // nil while a round is due

	Due         *jobs.Due
	Slice       time.Duration // that one took
	Soon        bool          // the others take less than waiting for the scheduler
	Tasks       int
	Array, Join string // scripts
	ArrayID     string // of the jobs; "" if they were not submitted
	JoinID      string
}

// Submit joins what is made, and submits an array job for what is missing of the round
// that is due, with a join that depends on its end. One slice made on the spot gives the
// time; so do all of a round that takes less than waiting for the scheduler.
func Submit(ctx context.Context, o Options) (*Submitted, error) {
	var err error
	if o.Run.Out, err = filepath.Abs(o.Run.Out); err != nil {
		return nil, err
	}
	for wait := o.Wait; ; wait = 0 {
		began := time.Now()
		outcome, err := jobs.Join(ctx, o.Study, wait, o.Run)
		var due *jobs.Due
		if !errors.As(err, &due) {
			return &Submitted{Outcome: outcome}, err
		}
		s := &Submitted{Due: due}
		if done, err := s.first(ctx, o); err != nil {
			return nil, err
		} else if done {
			continue
		}
		return s, s.submit(ctx, o, time.Since(began))
	}
}

// first makes the first slice that is missing, and the others if that is done soon.
func (s *Submitted) first(ctx context.Context, o Options) (done bool, err error) {
	made, err := jobs.Slice(ctx, o.Run.Out, jobs.SliceOptions{Share: jobs.Share{K: s.Due.Missing[0] + 1, N: s.Due.Slices}, Round: s.Due.Number, Workers: 1})
	if err != nil {
		return false, err
	}
	s.Slice = made.Took
	s.Due.Missing = s.Due.Missing[1:]
	s.Soon = o.Most == 0 && time.Duration(len(s.Due.Missing))*s.Slice <= onTheSpot
	if o.Dry || !s.Soon {
		return !o.Dry && len(s.Due.Missing) == 0, nil
	}
	_, err = jobs.Slice(ctx, o.Run.Out, jobs.SliceOptions{Share: jobs.Share{K: 1, N: 1}, Round: s.Due.Number, Workers: o.Run.Workers})
	return true, err
}

// submit submits the array and its join.
func (s *Submitted) submit(ctx context.Context, o Options, joining time.Duration) error {
	attempt := 1
	if o.Attempt > 0 && o.Round == s.Due.Number {
		attempt = o.Attempt + 1
	}
	if attempt > mostAttempts {
		return fmt.Errorf("%s: round %d (%s) was submitted %d times, and of its slices are still missing: %s", o.Run.Out, s.Due.Number, s.Due.Kind, mostAttempts, listed(s.Due.Missing))
	}
	if len(s.Due.Missing) == 0 {
		return nil // of a dry run, which joins nothing more
	}
	n, shares, each := s.shares(mostTasks(ctx, o))
	s.Tasks = len(shares)
	name := "proofmass-" + plainName(filepath.Base(o.Run.Out))
	array := script{name: name, options: append([]string{"--array=" + ranges(shares), "--requeue", "--cpus-per-task=1", "--time=" + minutes(3*time.Duration(each)*s.Slice+5*time.Minute)}, o.With...),
		log:  filepath.Join(o.Run.Out, result.LogFolder, "array-%A-%a.txt"),
		line: []string{o.Program, "slice", "$SLURM_ARRAY_TASK_ID/" + strconv.Itoa(n), o.Run.Out, "--round", strconv.Itoa(s.Due.Number), "--workers", "1"}}
	s.Array = array.String()
	if !o.Dry {
		if err := makeLogFolder(o.Run.Out); err != nil {
			return err
		}
		var err error
		if s.ArrayID, err = sbatch(ctx, s.Array); err != nil {
			return err
		}
	}
	join := script{name: name + "-join", options: append([]string{"--dependency=afterany:" + orName(s.ArrayID, "ARRAY"), "--kill-on-invalid-dep=yes", "--requeue", "--cpus-per-task=1",
		"--time=" + minutes(3*joining+time.Hour)}, o.With...), log: filepath.Join(o.Run.Out, result.LogFolder, "join-%j.txt"),
		line: []string{o.Program, "submit", o.Run.Out, "--attempt", fmt.Sprintf("%d/%d", attempt, s.Due.Number), "--wait", strconv.Itoa(int(o.Wait.Seconds()))}}
	for _, with := range o.With {
		join.line = append(join.line, "--with="+with)
	}
	if o.Most > 0 {
		join.line = append(join.line, "--tasks", strconv.Itoa(o.Most))
	}
	s.Join = join.String()
	if o.Dry {
		return nil
	}
	var err error
	if s.JoinID, err = sbatch(ctx, s.Join); err != nil {
		return fmt.Errorf("the slices are made by job %s, but their join could not be submitted (proofmass submit %s does it later): %w", s.ArrayID, o.Run.Out, err)
	}
	return nil
}

// shares are the numbers K of the shares K/N that make what is missing, in so many tasks
// that one takes some ten minutes, and each is how many of them the largest has.
func (s *Submitted) shares(most int) (n int, numbers []int, each int) {
	wanted := int(math.Ceil(float64(len(s.Due.Missing)) * float64(s.Slice) / float64(taskTakes)))
	if most < 0 { // as many as were asked for
		most, wanted = -most, -most
	}
	n = max(1, min(wanted, most, len(s.Due.Missing)))
	if n == len(s.Due.Missing) {
		n = min(s.Due.Slices, most)
	}
	missing := make([]int, n)
	for _, i := range s.Due.Missing {
		missing[i%n]++
	}
	for k, of := range missing {
		if of > 0 {
			numbers = append(numbers, k+1)
		}
	}
	return n, numbers, slices.Max(missing)
}

// Text says in a few lines what was done.
func (s *Submitted) Text() string {
	if len(s.Due.Missing) == 0 {
		return report.Wrap(fmt.Sprintf("Round %d (%s) had one slice, made in %s to time it: nothing of it is left to submit.", s.Due.Number, s.Due.Kind, s.Slice.Round(time.Millisecond)), "", 80)
	}
	what := fmt.Sprintf("Round %d (%s): %d of %d slices are to be made, at about %s each, by an array of %d.", s.Due.Number, s.Due.Kind, len(s.Due.Missing), s.Due.Slices,
		s.Slice.Round(time.Millisecond), s.Tasks)
	if s.Soon && s.ArrayID == "" {
		what += " Without --dry-run they would be made on the spot, which takes less than waiting for the scheduler."
	}
	if s.ArrayID != "" {
		what += fmt.Sprintf(" They are job %s; job %s joins them and submits what comes next.", s.ArrayID, s.JoinID)
	}
	return report.Wrap(what, "", 80)
}

// listed names the first of many slices.
func listed(missing []int) string {
	const most = 20
	text := ranges(missing[:min(most, len(missing))])
	if len(missing) > most {
		text += fmt.Sprintf(" and %d more", len(missing)-most)
	}
	return text
}

// ranges writes numbers in ascending order as a scheduler reads them: 1-4,7.
func ranges(numbers []int) string {
	var parts []string
	for i := 0; i < len(numbers); {
		k := i
		for k+1 < len(numbers) && numbers[k+1] == numbers[k]+1 {
			k++
		}
		part := strconv.Itoa(numbers[i])
		if k > i {
			part += "-" + strconv.Itoa(numbers[k])
		}
		parts = append(parts, part)
		i = k + 1
	}
	return strings.Join(parts, ",")
}

// minutes rounds up to whole minutes.
func minutes(d time.Duration) string { return strconv.Itoa(int(math.Ceil(d.Minutes()))) }

func orName(id, name string) string {
	if id == "" {
		return name
	}
	return id
}
