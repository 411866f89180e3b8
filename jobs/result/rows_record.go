package result

import "proofmass/jobs/files"

// Record is the table of predictions against outcomes. It stands where it is asked for, in no
// result folder.
var Record = declare[RecordRow]("record.parquet", "what was measured of a quantity or claim of a study, and what had been foretold")

// A RecordRow is a row of it.
type RecordRow struct {
	Folder     string  `column:"folder" meaning:"the result that foretold it"`
	Study      string  `column:"study" meaning:"as the file of outcomes names it"`
	Digest     string  `column:"study_digest" meaning:"SHA-256 of the study as it was run: whoever published it earlier shows that the prediction came first"`
	Predicted  string  `column:"predicted" meaning:"when the result was finished, UTC, as its manifest says"`
	MeasuredOn string  `column:"measured_on" meaning:"day of the measurement, empty where it is not stated"`
	Came       string  `column:"came" meaning:"first: the result is of an earlier day than the measurement; late: it is not; unknown: no day is stated"`
	Output     string  `column:"output" meaning:"full name of the quantity, or the claim's"`
	Kind       string  `column:"kind" meaning:"quantity or claim"`
	Unit       string  `column:"unit" meaning:"unit of the row's values"`
	Value      float64 `column:"value" unit:"unit of the row" meaning:"what was measured; of a claim 1: it held, 0: it did not"`
	SD         float64 `column:"sd" unit:"unit of the row" meaning:"standard deviation of the measurement's error; null: none was stated"`
	P05        float64 `column:"p05" unit:"unit of the row" meaning:"percentile of the draws with the measurement's error"`
	P50        float64 `column:"p50" unit:"unit of the row" meaning:"percentile of the draws with the measurement's error"`
	P95        float64 `column:"p95" unit:"unit of the row" meaning:"percentile of the draws with the measurement's error"`
	Inside     float64 `column:"inside" unit:"1" meaning:"1: the outcome lies from p05 to p95; 0: it does not; null for a claim"`
	Place      float64 `column:"place" unit:"1" meaning:"share of the draws below the outcome; over many predictions uniform where these are as sure as they should be"`
	CRPS       float64 `column:"crps" unit:"unit of the row" meaning:"continuous ranked probability score (Gneiting and Raftery 2007); smaller is better; of one value its error"`
	Interval   float64 `column:"interval_score" unit:"unit of the row" meaning:"width from p05 to p95, and 20 times how far outside the outcome lies (Gneiting and Raftery 2007, equation 43)"`
	Chance     float64 `column:"chance" unit:"1" meaning:"of the claim, as it was foretold"`
	Brier      float64 `column:"brier" unit:"1" meaning:"square of the chance less the outcome; 0 is best, 0.25 is what 1 in 2 gets"`

	Guess          float64 `column:"guess" unit:"unit of the row" meaning:"a rival's guess, of a claim its chance; null: none is stated"`
	GuessSD        float64 `column:"guess_sd" unit:"unit of the row" meaning:"standard deviation of the guess; null: a bare number"`
	GuessScore     float64 `column:"guess_score" unit:"unit of the row" meaning:"CRPS of the guess, of a claim its Brier score"`
	Sharper        float64 `column:"width_to_guess" unit:"1" meaning:"width from p05 to p95, without the measurement's error, over that of the guess; below 1: the prediction is sharper"`
	Announced      float64 `column:"announced" unit:"unit of the row" meaning:"what was announced of the quantity, where a claim of the study is about it"`
	AnnouncedScore float64 `column:"announced_score" unit:"unit of the row" meaning:"CRPS of the announcement taken at its word"`
}

// DescribeRecord describes that table.
func DescribeRecord() Description { return Record.describe() }

// WriteRecord writes the table to a file.
func WriteRecord(system files.System, path string, rows []RecordRow) error {
	_, err := writeTable(system, path, Record.Make(rows, nil))
	return err
}
