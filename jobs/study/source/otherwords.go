package source

import "slices"

// otherWords are words that people bring along, with the keys that stand for them
// here; the first that the mapping has is suggested.
var otherWords = map[string][]string{
	"title": {"study"}, "name": {"study"}, "description": {"about", "meaning"}, "cars": {"vehicles"}, "packs": {"vehicles"}, "include": {"use"}, "imports": {"use"},
	"parameters": {"inputs"}, "variables": {"inputs"}, "assumptions": {"inputs"}, "results": {"outputs"}, "statements": {"claims"}, "simulation": {"sample"}, "sampling": {"sample"},
	"correlation": {"together"}, "correlations": {"together"}, "sensitivity": {"indices"}, "confidence": {"intervals", "how_known"},
	"base": {"based_on", "baseline"}, "parent": {"based_on"}, "extends": {"based_on"}, "inherits": {"based_on"}, "removed": {"displaced"}, "credit": {"displaced"}, "extra": {"added"},
	"uniform": {"between"}, "rectangular": {"between"}, "range": {"between"}, "interval": {"between"}, "low": {"between"}, "high": {"between"}, "loguniform": {"log_between"}, "log_uniform": {"log_between"},
	"gauss": {"normal"}, "gaussian": {"normal"}, "norm": {"normal"}, "mean": {"normal"}, "sd": {"normal"}, "std": {"sd", "normal"}, "sigma": {"sd", "normal"}, "stdev": {"sd", "normal"}, "mu": {"mean", "normal"},
	"triangle": {"triangular"}, "discrete": {"one_of"}, "choice": {"one_of"}, "choices": {"one_of"}, "constant": {"value"}, "fixed": {"value"}, "number": {"value"},
	"expression": {"formula"}, "tolerance": {"likely"}, "plus_minus": {"likely"}, "units": {"unit"}, "lower": {"min"}, "upper": {"max"}, "mode": {"triangular"},
	"reference": {"source"}, "ref": {"source"}, "url": {"link"}, "comment": {"note"}, "remark": {"note"}, "date": {"as_of"}, "quality": {"how_known"}, "evidence": {"how_known"},
	"claim": {"announced"}, "claimed": {"announced"}, "rounding": {"rounded_to"}, "direction": {"sense"}, "condition": {"holds"}, "output": {"of"}, "quantity": {"of"}, "by": {"said_by"},
	"n": {"rows"}, "samples": {"rows"}, "draws": {"rows"}, "runs": {"rows"}, "method": {"design"}, "rank_correlation": {"spearman"}, "rho": {"spearman"},
}

// otherWord is the key that stands for a word here, "" if there is none among the
// allowed ones.
func otherWord(word string, allowed []string) string {
	for _, key := range otherWords[word] {
		if slices.Contains(allowed, key) {
			return key
		}
	}
	return ""
}
