package cluster

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"proofmass/jobs"
	"proofmass/jobs/files"
	"proofmass/jobs/result"
)

// makeLogFolder makes the folder where the scheduler puts what jobs print.
func makeLogFolder(out string) error {
	return files.EnsureFolder(files.Disk{}, filepath.Join(out, result.LogFolder))
}

// A script is a batch script of Slurm.
type script struct {
	name    string
	options []string
	log     string
	line    []string // the command
}

func (s *script) String() string {
	var b strings.Builder
	b.WriteString("#!/bin/sh\n")
	for _, o := range append([]string{"--job-name=" + s.name, "--open-mode=append", "--output=" + s.log}, s.options...) {
		fmt.Fprintf(&b, "#SBATCH %s\n", quotedOption(o))
	}
	b.WriteString("exec")
	for _, word := range s.line {
		b.WriteString(" " + quoted(word))
	}
	b.WriteString("\n")
	return b.String()
}

// quotedOption quotes the value of an option, as sbatch reads its comments.
func quotedOption(o string) string {
	name, value, found := strings.Cut(o, "=")
	if !found || plain.MatchString(value) {
		return o
	}
	return name + `="` + strings.NewReplacer(`\`, `\\`, `"`, `\"`).Replace(value) + `"`
}

var plain = regexp.MustCompile(`^[A-Za-z0-9_./%:,+=@-]*$`)

// quoted quotes a word for the shell; the number of the task stays to be filled in.
func quoted(word string) string {
	const task = "$SLURM_ARRAY_TASK_ID"
	if rest, ok := strings.CutPrefix(word, task); ok {
		return `"` + task + `"` + quoted(rest)
	}
	if word != "" && plain.MatchString(word) {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}

var notPlain = regexp.MustCompile(`[^A-Za-z0-9_.-]+`)

// plainName is a name that no scheduler minds.
func plainName(s string) string { return notPlain.ReplaceAllString(s, "-") }

// sbatch submits a script and returns the job's number.
func sbatch(ctx context.Context, text string) (string, error) {
	path, err := exec.LookPath("sbatch")
	if err != nil {
		return "", &jobs.UsageError{Err: errors.New("submit: there is no sbatch on this host; --dry-run prints the batch scripts, and slice and join serve any other scheduler")}
	}
	c := exec.CommandContext(ctx, path, "--parsable")
	var out, wrong bytes.Buffer
	c.Stdin, c.Stdout, c.Stderr = strings.NewReader(text), &out, &wrong
	if err := c.Run(); err != nil {
		return "", fmt.Errorf("sbatch: %w: %s", err, strings.Join(strings.Fields(wrong.String()), " "))
	}
	id, _, _ := strings.Cut(strings.TrimSpace(out.String()), ";")
	if _, err := strconv.Atoi(id); err != nil {
		return "", fmt.Errorf("sbatch: it answered %q, which is no number of a job", strings.TrimSpace(out.String()))
	}
	return id, nil
}

var arrayLimit = regexp.MustCompile(`(?m)^MaxArraySize\s*=\s*([0-9]+)`)

// mostTasks is how many tasks an array may have; negative where so many are asked for.
func mostTasks(ctx context.Context, o Options) int {
	most := 1000 // Slurm's own default allows one more
	if out, err := exec.CommandContext(ctx, "scontrol", "show", "config").Output(); err == nil {
		if m := arrayLimit.FindSubmatch(out); m != nil {
			if limit, err := strconv.Atoi(string(m[1])); err == nil && limit > 1 {
				most = limit - 1 // the highest number that a task may have
			}
		}
	}
	if o.Most > 0 {
		return -min(o.Most, most)
	}
	return most
}
