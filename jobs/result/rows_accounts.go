package result

// The tables of rival accounts.
var (
	Accounts       = declare[AccountRow](AccountsTable, "a rival account of what is so")
	AccountClaims  = declare[AccountClaimRow](AccountClaimsTable, "a claim as one account has it, or as all of them mixed have it")
	AccountOutputs = declare[AccountOutputRow](AccountOutputsTable, "an output as one account has it, or as all of them mixed have it")
)

// An AccountRow is a row of accounts.parquet.
type AccountRow struct {
	Account     string  `column:"account" meaning:"name of the account; the first is the one that all other tables are of"`
	Before      float64 `column:"weight_before" unit:"1" meaning:"how far it is believed as the study says; all add up to 1"`
	After       float64 `column:"weight_after" unit:"1" meaning:"the same after what was measured; as before where nothing was"`
	Low         float64 `column:"low" unit:"1" meaning:"lower end of the interval of weight_after, which is sampling error alone"`
	High        float64 `column:"high" unit:"1" meaning:"upper end of the interval of weight_after, which is sampling error alone"`
	Halved      float64 `column:"weight_halved" unit:"1" meaning:"weight_after with all guessed widths halved, by draws of their own; null without facts or guesses"`
	Doubled     float64 `column:"weight_doubled" unit:"1" meaning:"weight_after with all guessed widths doubled, by draws of their own; null without facts or guesses"`
	ESS         float64 `column:"ess" unit:"1" meaning:"effective draws of the account after what was measured (Kish 1965)"`
	Rows        int64   `column:"rows" meaning:"draws of the account: the same points of the design for each"`
	LogEvidence float64 `column:"log_evidence" unit:"1" meaning:"natural logarithm of the mean likelihood of what was measured, of densities in SI; null without facts"`
	Source      string  `column:"source" meaning:"where the account is from"`
}

// An AccountClaimRow is a row of account_claims.parquet.
type AccountClaimRow struct {
	Account       string       `column:"account" meaning:"name of the account, empty for all of them mixed by their weights after what was measured"`
	Claim         string       `column:"claim" meaning:"name of the claim; all_claims: all of them in the same draw"`
	Chance        float64      `column:"chance" unit:"1" meaning:"share of the draws in which it holds, weighted by what was measured; an infeasible draw does not hold"`
	ChanceLow     float64      `column:"chance_low" unit:"1" meaning:"lower end of the interval of the chance, which is sampling error alone"`
	ChanceHigh    float64      `column:"chance_high" unit:"1" meaning:"upper end of the interval of the chance, which is sampling error alone"`
	Method        ChanceMethod `column:"method" meaning:"how the interval was made"`
	Held          int64        `column:"held" meaning:"draws in which it holds"`
	Failed        int64        `column:"failed" meaning:"draws in which it fails"`
	Infeasible    int64        `column:"infeasible" meaning:"draws in which it can not be said"`
	Rows          int64        `column:"rows" meaning:"all draws"`
	EffectiveRows float64      `column:"effective_rows" unit:"1" meaning:"independent draws that would tell as much"`
	MarginP05     float64      `column:"margin_p05" unit:"unit of the row" meaning:"percentile of how far inside the claim a draw lies; positive where it holds"`
	MarginP50     float64      `column:"margin_p50" unit:"unit of the row" meaning:"percentile of how far inside the claim a draw lies; positive where it holds"`
	MarginP95     float64      `column:"margin_p95" unit:"unit of the row" meaning:"percentile of how far inside the claim a draw lies; positive where it holds"`
	Unit          string       `column:"unit" meaning:"unit of the margins"`
	Verdict       Verdict      `column:"verdict" meaning:"from the chance and its interval, which is sampling error alone"`
}

// An AccountOutputRow is a row of account_outputs.parquet.
type AccountOutputRow struct {
	Account    string         `column:"account" meaning:"name of the account, empty for all of them mixed by their weights after what was measured"`
	Output     string         `column:"output" meaning:"full name of the output"`
	Unit       string         `column:"unit" meaning:"unit of every value in the row; sd of a degC row is in K"`
	Rows       int64          `column:"rows" meaning:"rows evaluated"`
	Infeasible int64          `column:"infeasible" meaning:"rows without a value; all statistics are over the others"`
	Mean       float64        `column:"mean" unit:"unit of the row" meaning:"mean"`
	MeanLow    float64        `column:"mean_low" unit:"unit of the row" meaning:"lower end of the interval of mean"`
	MeanHigh   float64        `column:"mean_high" unit:"unit of the row" meaning:"upper end of the interval of mean"`
	SD         float64        `column:"sd" unit:"unit of the row" meaning:"standard deviation"`
	P05        float64        `column:"p05" unit:"unit of the row" meaning:"percentile; null where weights tell it too poorly"`
	P50        float64        `column:"p50" unit:"unit of the row" meaning:"percentile; null where weights tell it too poorly"`
	P95        float64        `column:"p95" unit:"unit of the row" meaning:"percentile; null where weights tell it too poorly"`
	Method     IntervalMethod `column:"method" meaning:"how the interval was made"`
}
