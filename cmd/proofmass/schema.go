package main

import (
	"context"
	"io"

	"proofmass/jobs/schema"
	"proofmass/jobs/study"
)

// printSchema prints the JSON Schema of the study file.
func printSchema(_ context.Context, args []string, out, _ io.Writer) error {
	if err := parse(flags("schema"), args, 0, 0, "none"); err != nil {
		return err
	}
	text, err := schema.JSON(study.BuiltIn())
	if err != nil {
		return err
	}
	_, err = out.Write(text)
	return err
}
