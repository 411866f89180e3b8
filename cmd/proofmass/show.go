package main

import (
	"context"
	"fmt"
	"io"

	"proofmass/jobs"
)

func show(_ context.Context, args []string, out, _ io.Writer) error {
	f := flags("show")
	row := f.Int("row", -1, "")
	asJSON := f.Bool("json", false, "")
	if err := parse(f, args, 1, 1, "one result folder"); err != nil {
		return err
	}
	if f.Changed("row") {
		return showRow(out, f.Arg(0), *row, *asJSON)
	}
	state, err := jobs.Show(f.Arg(0))
	if err != nil {
		return err
	}
	if *asJSON {
		return writeJSON(out, state)
	}
	switch {
	case !state.Whole:
		fmt.Fprintf(out, "%s: not whole: %s\nrun it again with --replace\n", state.Study, state.Fault)
		return nil
	case !state.Finished:
		fmt.Fprintf(out, "%s: not finished; the same run command starts it again\n", state.Study)
		return nil
	}
	if err := state.Answer.Text(out, f.Arg(0)); err != nil {
		return err
	}
	_, err = fmt.Fprintln(out, "Every file is whole.")
	return err
}

// showRow prints a draw: a line a quantity, with all its digits.
func showRow(out io.Writer, folder string, row int, asJSON bool) error {
	values, err := jobs.Row(folder, row)
	if err != nil {
		return err
	}
	if asJSON {
		return writeJSON(out, values)
	}
	fmt.Fprintf(out, "draw %d\n", row)
	role := ""
	for _, v := range values {
		if v.Role != role {
			role = v.Role
			fmt.Fprintf(out, "\n%ss\n", role)
		}
		value := fmt.Sprintf("%.10g", v.Value)
		if v.Infeasible {
			value = "infeasible"
		}
		fmt.Fprintf(out, "  %-44s %18s %s\n", v.Name, value, v.Unit)
	}
	return nil
}
