package report

import (
	"strings"

	"proofmass/jobs/result"
	"proofmass/jobs/study"
)

// Together reports whether it is all claims taken as one.
func (c *Claim) Together() bool { return c.Name == study.AllClaims }

// ClaimName is a claim's name as it is told.
func ClaimName(name string) string {
	if name == study.AllClaims {
		return "all together"
	}
	return name
}

// verdicts in words, in the order in which they are counted: alone, of one claim, of
// several.
var verdicts = []struct {
	verdict          result.Verdict
	alone, one, many string
}{
	{result.Stands, "stands", "stands", "stand"},
	{result.InDoubt, "in doubt", "is in doubt", "are in doubt"},
	{result.Falls, "falls", "falls", "fall"},
	{result.TooFew, "too few draws to say", "has too few draws to say", "have too few draws to say"},
	{result.NotJudged, "can't be judged", "can't be judged", "can't be judged"},
}

// InWords is the verdict as a person reads it: "in doubt".
func (c *Claim) InWords() string {
	for _, v := range verdicts {
		if v.verdict == c.Verdict {
			return v.alone
		}
	}
	return string(c.Verdict)
}

// IsInWords is the verdict as the rest of a sentence: "is in doubt".
func (c *Claim) IsInWords() string {
	for _, v := range verdicts {
		if v.verdict == c.Verdict {
			return v.one
		}
	}
	return string(c.Verdict)
}

// Tally counts verdicts in a sentence: "Of three claims one stands, one is in doubt and
// one falls."
func (a *Answer) Tally() string {
	claims, count := 0, map[result.Verdict]int{}
	for i := range a.Claims {
		if c := &a.Claims[i]; !c.Together() {
			claims++
			count[c.Verdict]++
		}
	}
	var parts, verbs []string
	for _, v := range verdicts {
		if n := count[v.verdict]; n > 0 {
			verb := v.one
			if n > 1 {
				verb = v.many
			}
			parts, verbs = append(parts, Count(n)+" "+verb), append(verbs, verb)
		}
	}
	switch {
	case claims == 0:
		return "Nothing is claimed; this is how large things are."
	case len(parts) == 0: // of an answer that nobody read from a folder
		return "Its claims have no verdict."
	case claims == 1:
		return "Its one claim " + verbs[0] + "."
	case len(parts) == 1 && claims == 2:
		return "Both claims " + verbs[0] + "."
	case len(parts) == 1:
		return "All " + Count(claims) + " claims " + verbs[0] + "."
	}
	return "Of " + Count(claims) + " claims " + Listed(parts) + "."
}

// lower makes the first letter of a sentence a small one, behind a name and a colon.
func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }
