package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// standIn acts as sbatch does, at once and on this machine: an array's tasks one after the
// other, then the join that waits for their end. The second task of the first array fails.
const standIn = `#!/bin/sh
set -eu
here=$(dirname "$0")
script=$(mktemp "$here/job.XXXXXX")
cat > "$script"
n=$(($(cat "$here/count") + 1))
echo $n > "$here/count"
cp "$script" "$here/script.$n"
list=$(sed -n 's/^#SBATCH --array=//p' "$script" | tr , ' ')
if [ -z "$list" ]; then
  sh "$script" >> "$here/joins" 2>&1 || echo "join $n: exit $?" >> "$here/joins"
fi
for part in $list; do
  for task in $(seq "${part%-*}" "${part#*-}"); do
    if [ "$n" = 1 ] && [ "$task" = 2 ]; then continue; fi
    SLURM_ARRAY_TASK_ID=$task sh "$script" >> "$here/tasks" 2>&1 || echo "task $task of $n: exit $?" >> "$here/tasks"
  done
done
echo "$n;here"
`

// withStandIn gives a folder whose sbatch is the stand-in, and a command that finds it.
func withStandIn(t *testing.T) (folder string, command func(args ...string) result) {
	t.Helper()
	folder = t.TempDir()
	for name, text := range map[string]string{"sbatch": standIn, "count": "0\n", "scontrol": "#!/bin/sh\necho 'MaxArraySize            = 6'\n"} {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o777); err != nil {
			t.Fatal(err)
		}
	}
	return folder, func(args ...string) result {
		var out, errOut bytes.Buffer
		c := exec.Command(binary, args...)
		c.Env = append(os.Environ(), "PATH="+folder+string(os.PathListSeparator)+os.Getenv("PATH"))
		c.Stdout, c.Stderr = &out, &errOut
		_ = c.Run()
		return result{c.ProcessState.ExitCode(), out.String(), errOut.String()}
	}
}

func textOf(t *testing.T, path string) string {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// A study that is submitted goes on by itself until the answer stands in the folder, though
// a task fails: the answer and the tables are those of a run.
func TestSubmitted(t *testing.T) {
	study, folder := write(t, small), t.TempDir()
	out, whole := filepath.Join(folder, "it's at night"), filepath.Join(folder, "whole")
	proof("run", study, "--out", whole)
	scheduler, command := withStandIn(t)
	if got := command("submit", study, "--out", out, "--tasks", "9", "--wait", "0"); got.code != 0 || !strings.Contains(strings.Join(strings.Fields(got.err), " "), "by an array of 5") {
		t.Fatalf("exit %d, %s%s", got.code, got.out, got.err)
	}
	if joins := textOf(t, filepath.Join(scheduler, "joins")); strings.Contains(joins, "exit") || !strings.Contains(joins, "large") {
		t.Errorf("joins say %s", joins)
	}
	if tasks := textOf(t, filepath.Join(scheduler, "tasks")); strings.Contains(tasks, "exit") {
		t.Errorf("tasks say %s", tasks)
	}
	if got := proof("show", out); got.code != 0 || !strings.Contains(got.out, "Every file is whole.") {
		t.Errorf("show: exit %d\n%s", got.code, got.out)
	}
	for _, table := range []string{"summary", "claims", "indices", "tornado"} {
		if textOf(t, filepath.Join(out, table+".parquet")) != textOf(t, filepath.Join(whole, table+".parquet")) {
			t.Errorf("%s differs", table)
		}
	}
	for n, want := range map[string][]string{
		"1": {`(?m)^#SBATCH --array=1-5$`, `(?m)^#SBATCH --requeue$`, `(?m)^#SBATCH --time=[0-9]+$`, `(?m)^#SBATCH --output=".*/it's at night/log/array-%A-%a.txt"$`,
			`(?m)^exec \S+ slice "\$SLURM_ARRAY_TASK_ID"/5 '.*/it'\\''s at night' --round 0 --workers 1$`},
		"2": {`(?m)^#SBATCH --dependency=afterany:1$`, `(?m)^#SBATCH --kill-on-invalid-dep=yes$`, `--attempt 1/0 `},
		"3": {`(?m)^#SBATCH --array=2$`}, // only what is missing
		"4": {`afterany:3`, `--attempt 2/0 `},
	} {
		text := textOf(t, filepath.Join(scheduler, "script."+n))
		for _, line := range want {
			if !regexp.MustCompile(line).MatchString(text) {
				t.Errorf("script %s lacks %s:\n%s", n, line, text)
			}
		}
	}
}

// What fails three times is named, and nothing more is submitted.
func TestSubmittedInVain(t *testing.T) {
	study, out := write(t, small), filepath.Join(t.TempDir(), "out")
	scheduler, command := withStandIn(t)
	vain := strings.Replace(standIn, `[ "$n" = 1 ] && [ "$task" = 2 ]`, "true", 1)
	if err := os.WriteFile(filepath.Join(scheduler, "sbatch"), []byte(vain), 0o777); err != nil {
		t.Fatal(err)
	}
	if got := command("submit", study, "--out", out, "--tasks", "5", "--wait", "0", "--with=--partition=night"); got.code != 0 {
		t.Fatalf("exit %d, %s", got.code, got.err)
	}
	joins := textOf(t, filepath.Join(scheduler, "joins"))
	if !strings.Contains(strings.Join(strings.Fields(joins), " "), "round 0 (sample) was submitted 3 times, and of its slices are still missing: 4-15") || strings.Count(joins, "exit 1") != 1 {
		t.Errorf("joins say %s", joins)
	}
	if n := textOf(t, filepath.Join(scheduler, "count")); n != "6\n" {
		t.Errorf("%s jobs were submitted, want 6: three arrays and their joins", n)
	}
	if text := textOf(t, filepath.Join(scheduler, "script.6")); !strings.Contains(text, "#SBATCH --partition=night\n") || !strings.Contains(text, "--with=--partition=night") {
		t.Errorf("the last join's script is\n%s", text)
	}
	if got := proof("run", study, "--out", out); got.code != 0 {
		t.Errorf("a run does not end it: %s", got.err)
	}
}

// The scripts are shown without a scheduler; without one nothing can be submitted, which is
// said; the verbs refuse what they cannot read.
func TestSlicesByHand(t *testing.T) {
	study, out := write(t, small), filepath.Join(t.TempDir(), "out")
	if got := proof("join", study, "--out", out); got.code != exitStopped || !strings.Contains(got.err, "round 0 (sample) is due: 16 of its 16 slices are to be made") {
		t.Errorf("join: exit %d, %s", got.code, got.err)
	}
	if got := proof("submit", out, "--dry-run", "--tasks", "3", "--wait", "0"); got.code != 0 || strings.Count(got.out, "#!/bin/sh") != 2 || !strings.Contains(got.out, "afterany:ARRAY") {
		t.Errorf("submit --dry-run: exit %d, %s%s", got.code, got.out, got.err)
	}
	dry := filepath.Join(t.TempDir(), "dry") // a study so small that it would be made on the spot
	if got := proof("submit", study, "--out", dry, "--dry-run", "--wait", "0"); got.code != 0 || strings.Count(got.out, "#!/bin/sh") != 2 ||
		!strings.Contains(strings.Join(strings.Fields(got.err), " "), "15 of 16 slices are to be made") || !strings.Contains(got.err, "made on the spot") {
		t.Errorf("submit --dry-run of a small study: exit %d, %s%s", got.code, got.out, got.err)
	}
	for _, c := range []struct {
		code int
		says string
		args []string
	}{
		{2, "the share is K/N", []string{"slice", "0/4", out}}, {2, "the share is K/N", []string{"slice", "5/4", out}}, {2, "the share is K/N", []string{"slice", "4", out}},
		{2, "no such folder", []string{"slice", "1/4", out + "x"}}, {3, "no round is open yet", []string{"slice", "1/4", out, "--round", "7", "--wait", "0"}},
		{2, "rounds count from 0", []string{"slice", "1/4", out, "--round", "-2"}}, {2, "0 to 3600", []string{"join", out, "--wait", "-1"}},
		{2, "it takes a study and --out DIR", []string{"join", study}}, {2, "holds no study that was begun", []string{"submit", t.TempDir()}},
		{2, "an option of sbatch", []string{"submit", out, "--with", "partition"}}, {2, "ATTEMPT/ROUND", []string{"submit", out, "--attempt", "x"}},
	} {
		if got := proof(c.args...); got.code != c.code || !strings.Contains(strings.Join(strings.Fields(got.err), " "), c.says) {
			t.Errorf("%v: exit %d, %s", c.args, got.code, got.err)
		}
	}
	none := exec.Command(binary, "submit", out, "--tasks", "2", "--wait", "0")
	none.Env = []string{"PATH=" + t.TempDir()}
	if said, _ := none.CombinedOutput(); none.ProcessState.ExitCode() != exitWrong || !strings.Contains(string(said), "there is no sbatch") {
		t.Errorf("without sbatch: %s", said)
	}
	for range 20 {
		if got := proof("slice", "1/1", out); got.code != 0 {
			t.Fatalf("slice: exit %d, %s", got.code, got.err)
		}
		if got := proof("join", out, "--wait", "0"); got.code == exitDone && strings.Contains(got.out, "large") {
			return
		} else if got.code != exitStopped {
			t.Fatalf("join: exit %d, %s", got.code, got.err)
		}
	}
	t.Error("20 joins do not end it")
}
