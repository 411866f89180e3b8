package main

const helpScore = `proofmass score DIR... --against FILE [--table FILE] [--json]

Tells how good the predictions in finished result folders were, now that the car
was weighed and tested: whether each outcome lies inside nine in ten draws, how
far off the draws were (CRPS, the continuous ranked probability score), the
Brier score of the claims, and whether the predictions were as sure as they
should be. It shows each study's digest and the day on which it was run.

FILE is a CSV with a line an outcome. Columns, in any order:

  study        name of the study, or of its folder where several are of one
  name         a quantity (car.kerb_mass) or a claim
  value        what was measured; of a claim 1: it held, 0: it did not
  sd           standard deviation of the measurement's error; empty: none
  unit         of value, sd and guess: never guessed (a claim has none)
  measured_on  the day: 2026-05-02
  guess        a rival's plain guess, of a claim a chance from 0 to 1
  guess_sd     its standard deviation; empty: a bare number

study, name and value must be there. Lines that begin with # are left out.

  --against FILE  the outcomes (required)
  --table FILE    writes a row an outcome as Parquet too
  --json          the same for machines

  proofmass score heron-result --against outcomes.csv
  proofmass score first second --against outcomes.csv --table record.parquet
`
