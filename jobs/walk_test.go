package jobs_test

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"proofmass/jobs"
	"proofmass/jobs/analyse"
	"proofmass/jobs/plan"
	"proofmass/jobs/report"
	"proofmass/jobs/result"
	"proofmass/jobs/run"
	"proofmass/jobs/study"
	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
)

// walked is a small study: two plates, one of them as heavy as announced or not.
const walked = `format: 1
model: formulas
inputs:
  thick: {between: [2.0 mm, 2.4 mm]}
  area: 1.5 m2
  density: 2700(20) kg/m3
outputs: {plate: {formula: area * thick * density, unit: kg}}
claims: {light: {of: plate, announced: 9 kg, rounded_to: 0.2 kg, sense: at_most}}
sample: {rows: 4096}
indices: none
`

// nothingKept is a store without memory: each slice is made.
type nothingKept struct{}

func (nothingKept) Known(*plan.Step, plan.Key) run.Part { return nil }
func (nothingKept) Keep(_ plan.Key, part run.Part, _ time.Duration) error {
	if file := run.FileIn(part); file != nil {
		return file.Commit()
	}
	return nil
}

// Example follows a study through the code, one stage at a time, as jobs.Run does.
func Example() {
	folder, err := os.MkdirTemp("", "walk")
	must(err)
	defer os.RemoveAll(folder)
	path := filepath.Join(folder, "plate.yaml")
	must(os.WriteFile(path, []byte(walked), 0o666))

	// 1. Bytes, bounded (study/source/file.go).
	data, err := source.ReadStudy(path)
	must(err)
	fmt.Println("1.", len(data), "bytes")

	// 2. Fields, which know their places (study/source/parse.go).
	var mistakes source.Collector
	root, _ := source.Parse("plate.yaml", data, &mistakes)
	top, _ := root.Pairs("")
	inputs, _ := top[2].Value.Pairs("")
	fmt.Println("2.", inputs[2].Name, "at", inputs[2].Key.Place())

	// 3. How well a number is known (study/uncertain/item.go).
	density, _ := new(uncertain.Context).Read("density", nil, nil, inputs[2].Value)
	fmt.Printf("3. mean %.0f, sd %.0f %s\n", density.Marginal.Mean(), density.Marginal.SD(), density.Unit)

	// 4. Sections and names, into a study (study/reader.go, study/resolve.go).
	s, err := study.Read(path, study.Options{})
	must(err)
	fmt.Println("4.", s.Claims[0].Text)

	// 5. Its graph: what a name needs (study/graph.go).
	fmt.Println("5. plate needs", s.Graph.Needs("plate"))

	// 6. Columns and a program (plan/plan.go).
	p, err := plan.New(s)
	must(err)
	fmt.Println("6.", len(p.Columns), "columns,", len(p.Drawn), "drawn")

	// 7. What comes next: rounds of slices (plan/next.go).
	step, err := p.Next(&plan.Joined{})
	must(err)
	fmt.Println("7.", step.Kind, step.Rounds[0].Rows, "rows")

	// 8. Slices drawn, evaluated and written (run/parts.go, run/sample.go).
	to, err := result.Create(filepath.Join(folder, "result"))
	must(err)
	runner := &run.Runner{Plan: p, Folder: to}
	round := step.Rounds[0]
	file := func(s plan.Slice) string { return to.Path(result.SliceName(result.SampleKind, round.Number, s.Number)) }
	analyst := &analyse.Analyst{Plan: p}
	analyst.Begin(step, round, file)
	made := 0
	must(runner.Make(context.Background(), step, round, round.Slices, nothingKept{}, func(s plan.Slice, part run.Part) error {
		made++
		return analyst.Join(round, s, part)
	}))
	fmt.Println("8.", made, "slices, first", filepath.Base(file(round.Slices[0])))

	// 9. Joined, into tables (analyse/rounds.go, analyse/claims.go).
	claims, err := analyst.Claims()
	must(err)
	_, err = to.WriteTable(result.ClaimsTable, result.Claims.Make(claims, nil))
	must(err)
	fmt.Println("9.", result.ClaimsTable)

	// 10. All of it in order (jobs.go), and the answer read from the folder alone (report/answer.go).
	_, err = jobs.Run(context.Background(), path, jobs.Options{Out: filepath.Join(folder, "again")})
	must(err)
	answer, err := report.Read(filepath.Join(folder, "again"))
	must(err)
	fmt.Println("10.", answer.Claims[0].Name, answer.Claims[0].Verdict)

	// Output:
	// 1. 291 bytes
	// 2. density at plate.yaml:6:3
	// 3. mean 2700, sd 20 kg/m3
	// 4. plate <= 9.1 kg
	// 5. plate needs [area thick density]
	// 6. 4 columns, 2 drawn
	// 7. sample 4096 rows
	// 8. 16 slices, first slice-00000000.parquet
	// 9. claims.parquet
	// 10. light in_doubt
}

func must(err error) {
	var wrong study.Errors
	if errors.As(err, &wrong) {
		panic(wrong)
	}
	if err != nil {
		panic(err)
	}
}
