package main

import (
	"fmt"
	"io"
	"maps"
	"slices"

	"proofmass/jobs/reference"
)

const help = `proofmass tests what is claimed for a new battery pack.

It takes one study file (what is known, how well it is known, what is claimed),
runs it through a mass and range model many thousands of times, and says which
claims stand, what decides the answer, and what was only assumed.

  proofmass new [KIND] FILE       a commented study to start from
  proofmass check STUDY...        can it be run; what looks odd; what it takes
  proofmass run STUDY --out DIR   do it; prints the answer, leaves tables in DIR
  proofmass show DIR              the answer again; --row N: one draw in full
  proofmass report DIR            draws DIR/report.html, the answer on a page
  proofmass compare OLD NEW       what changed between two results, and why
  proofmass score DIR...          past predictions against what was measured
  proofmass submit STUDY          all of it on a Slurm cluster
  proofmass join STUDY            on other clusters: joins slices, opens a round
  proofmass slice K/N DIR         makes slices of the round that is open
  proofmass list [WHAT]           what a study may use, and the words of results
  proofmass schema                JSON Schema of the study file, for editors
  proofmass completion SHELL      what bash, zsh or fish completes by
  proofmass version

  proofmass help study            every key of the study file, with an example
  proofmass help json             every field that --json prints
  proofmass help COMMAND          flags and examples of one command

To begin with: proofmass run testdata/studies/heron.yaml --out heron-result

The answer goes to stdout (--json: for machines), progress and errors to stderr.
Exit codes: 0 done; 1 failed; 2 the study or the command line is wrong;
3 stopped, or a round is due; 4 finished, but a half-width that the study asks
for was not reached.
`

var helpOf = map[string]string{
	"study": studyHelp(),
	"json":  jsonHelp(),
	"new": `proofmass new [rumour|teardown|swap] FILE

Writes a commented study to start from, which runs as it stands; all its numbers
are invented and wait for yours. A file that exists is left alone.

  rumour     little is known but what is said of a new pack (the default)
  teardown   a pack was taken apart, its parts weighed
  swap       another pack in the same car

  proofmass new my.yaml
  proofmass new teardown pack.yaml
`,
	"check": `proofmass check STUDY... [--read FOLDER]... [--rows N] [--seed S]
                [--workers N] [--json]

Reads the files and says all that is wrong with them, each mistake with its
place, what was found and what is allowed. Of a study that can be run: what each
claim was understood to mean, what looks odd, and what a run would do and take.

  --read FOLDER   used files may also come from this folder (repeatable)
  --rows N        rows instead of the study's, as for run
  --seed S        seed instead of the study's
  --workers N     what it takes with so many processors (default: all)
  --json          the same for machines: a list with an entry for each file

  proofmass check testdata/studies/heron.yaml
  proofmass check my.yaml --json     # mistakes as file, line, column, field ...

A mistake is told as file:line:column: field: what was found; what is allowed:

  my.yaml:5:21: vehicles.car.kerb_mass: "Kg" is no unit; did you mean kg?
`,
	"run": `proofmass run STUDY... --out DIR [flags]

Runs the study and prints the answer. DIR then holds samples/, summary.parquet,
claims.parquet, indices.parquet, tornado.parquet, curves.parquet,
regions.parquet, rare.parquet, joint.parquet, readings.parquet,
attribution.parquet, levers.parquet, requires.parquet, measure_next.parquet and
inside.parquet (these ten where there is something to tell), where something was
measured evidence.parquet, summary_before.parquet and claims_before.parquet, of
rival accounts accounts.parquet, account_claims.parquet and
account_outputs.parquet,
manifest.json and a copy of every file read. If DIR holds this very result
already, its answer is printed; a run that was stopped goes on. Another study's
result needs --replace. The same study and seed give the same bytes whatever the
number of workers.

  --out DIR       the result folder (required)
  --rows N        rows instead of the study's, for a quick try; also limits the
                  model runs for sensitivity to 8 N
  --seed S        seed instead of the study's
  --workers N     how many processors to use (default: all)
  --nice N        give way to other programs, 1 to 19 (most)
  --read FOLDER   used files may also come from this folder (repeatable)
  --replace       DIR may hold another result, which stays whole until the new
                  one is; files that are not of a result are left alone
  --compress      packs samples/ (byte stream split and zstd: about 3 fifths of
                  the room, a quarter more time); tables are small and stay. A
                  result that was begun goes on as it was begun
  --full          all that there is to tell, not the short answer
  --json          the answer for machines

  proofmass run testdata/studies/heron.yaml --out heron-result
  proofmass run my.yaml --out try --rows 4096 --replace
  proofmass run heron-result/study.yaml --out again      # repeats a result
  proofmass run a.yaml b.yaml --out many

Of several studies each has its folder in DIR, DIR/a and DIR/b. One that fails
does not stop the rest. At the end the chances of their claims stand side by
side, as in DIR/index.parquet, then what failed.
`,
	"report": `proofmass report DIR [--since OLD] [--figures svg,png] [--notebook]

Draws the answer of a finished result folder on a page, DIR/report.html: one
file that opens from disk, prints, and needs neither network nor script. It is
drawn from the folder alone, so it can be drawn again at any time; none is drawn
where a file is not whole (exit code 1).

  --since OLD        opens with what changed since the result in folder OLD,
                     why, and which verdicts moved (see help compare)
  --figures svg,png  each figure too, in DIR/figures: for a page, for a column,
                     and large for a talk (light and dark), with its numbers as
                     CSV
  --notebook         a notebook too, DIR/notebook.ipynb, which opens the tables
                     with pandas: plots to change. One that was changed is left
                     alone (exit code 2)

  proofmass report heron-result --figures svg
  proofmass report heron-result --notebook
  proofmass report heron-later --since heron-result
`,
	"compare": `proofmass compare OLD NEW [--page FILE] [--rows N] [--workers N] [--json]

Compares two finished result folders of a study: which verdicts moved, which
inputs are stated otherwise, what that did to each output and chance, and how
much of it each change caused. Neither folder is written to.

A cause is the mean of what the change does over every order in which the
changes could be made (a Shapley value; from 7 changes on over 32 random
orders), so no order is preferred and the causes of a figure add up to its
change. Every combination of old and new lines is run with the same draws.

  --page FILE   draws it on a page too, an HTML file that needs nothing else
  --rows N      draws of each combination (default: as many as the results
                have, fewer where there are many combinations)
  --workers N   how many processors to use (default: all)
  --json        the same for machines, all outputs, with intervals

  proofmass compare heron-result heron-later
  proofmass compare heron-result heron-later --page changes.html
`,
	"show": `proofmass show DIR [--full] [--row N] [--csv TABLE] [--json]

Prints the short answer of a result folder, and whether every file is whole (if
one is not: exit code 1). Of a result that is not finished: how many slices of
the open round are made, and what each process that works on it has told last,
on whatever host; all that they told stands in DIR/log.

  --full    all that there is to tell: every quantity, what decides each claim,
            every assumption, every caution
  --row N   instead the inputs of draw N and every intermediate quantity that
            the model can compute from them, to check by hand
  --csv TABLE
            instead a table of the result with all digits: claims, summary,
            indices ... (proofmass list tables), or samples, a draw a line.
            RFC 4180; a column's unit stands in brackets behind its name
  --json    the same for machines

  proofmass show heron-result
  proofmass show heron-result --full
  proofmass show heron-result --row 17
  proofmass show heron-result --csv claims
`,
	"list": `proofmass list [WHAT] [--about NAME] [--json]

Lists what a study may use: WHAT is inputs, outputs, schedules, distributions,
functions or units; the columns of a result's tables: tables; and what the words
in them mean: methods. Without WHAT all.

  --about NAME   all about one of them: unit, limits, default and where that
                 comes from, equation, and what it is made from directly
  --json         the same for machines

  proofmass list inputs
  proofmass list functions
  proofmass list --about gear_efficiency
  proofmass list --about pack_mass
  proofmass list methods --about shapley
`,
	"schema": `proofmass schema

Prints the JSON Schema (draft 2020-12) of the study file, by which editors that
know JSON Schema complete and check a study as it is written: keys, words of
closed lists, every quantity of the catalogue with its meaning. Units, formulas
and whether the names in them are known is told by proofmass check alone.

  proofmass schema > study.schema.json

and as the first line of a study, for editors with the usual YAML support:

  # yaml-language-server: $schema=study.schema.json
`,
	"completion": `proofmass completion bash|zsh|fish

Prints a script by which a shell completes commands, options, study files,
result folders and words of closed lists. To have it in every session:

  bash   add to ~/.bashrc:   source <(proofmass completion bash)
  zsh    add to ~/.zshrc, below compinit:   source <(proofmass completion zsh)
  fish   proofmass completion fish > ~/.config/fish/completions/proofmass.fish

  proofmass completion bash
`,
	"score":  helpScore,
	"slice":  helpSlice,
	"join":   helpJoin,
	"submit": helpSubmit,
	"version": `proofmass version [--notices]

Prints the program's version and the Go release that built it.

  --notices   instead the copyright notices and licences of what the program
              took over from others

  proofmass version
  proofmass version --notices
`,
}

// explain prints the help of one command, or the overview.
func explain(args []string, out, errOut io.Writer) int {
	if len(args) == 0 || args[0] == "help" || args[0] == "--help" {
		fmt.Fprint(out, help)
		return exitDone
	}
	text, ok := helpOf[args[0]]
	if !ok {
		fmt.Fprintf(errOut, "proofmass: %s\n", unknownVerb(args[0]))
		return exitWrong
	}
	fmt.Fprint(out, text)
	return exitDone
}

func unknownVerb(name string) string {
	known := append(slices.Sorted(maps.Keys(verbs)), "help", "study", "json")
	return fmt.Sprintf("found command %q; there are new, check, run, show, report, compare, score, slice, join, submit, list, schema, completion, version, help, and help study, help json%s", name, reference.Suggest(name, known))
}
