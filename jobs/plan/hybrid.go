package plan

import (
	"fmt"
	"slices"
	"strings"

	"proofmass/model"
	"proofmass/sensitivity/split"
)

// A hybrid is a candidate in which some causes have their quantities as the candidate has
// them and the others as the baseline has them; all that rests on these is computed anew by
// the candidate's rules. Where a cause stands for all else, these are the baseline's as long
// as it is not made.
//
// A column of a hybrid goes by its full name and the causes on which it rests, so that what
// is the same in several hybrids is evaluated once.
type hybrid struct {
	*graph
	tag       string // which keeps the names of several hybrids apart
	own, base string
	causes    []string       // in the order of their names
	cause     map[string]int // of a quantity, in which the two may differ: its number among the causes
	rest      int            // the cause that is all else, -1: none

	touched map[string]split.Set
	of      map[string]hybridName // hybrid names that were handed out
}

type hybridName struct {
	name string
	made split.Set
}

func newHybrid(g *graph, tag, own, base string) *hybrid {
	return &hybrid{graph: g, tag: tag, own: own, base: base, cause: map[string]int{}, rest: -1, touched: map[string]split.Set{}, of: map[string]hybridName{}}
}

// add makes a quantity one of a cause. All are added before anything is asked.
func (h *hybrid) add(quantity, cause string) {
	at, found := slices.BinarySearch(h.causes, cause)
	if !found {
		h.causes = slices.Insert(h.causes, at, cause)
		for q, k := range h.cause {
			if k >= at {
				h.cause[q] = k + 1
			}
		}
	}
	h.cause[quantity] = at
}

// addRest makes all else a cause, the last one.
func (h *hybrid) addRest() {
	h.rest = len(h.causes)
	h.causes = append(h.causes, RestOfAll)
}

// isOwn reports whether a quantity of the candidate itself goes by the name, and no
// comparison with another vehicle.
func (h *hybrid) isOwn(name string) bool {
	v, q := Split(name)
	return v == h.own && !strings.HasSuffix(q, "_change") && !strings.HasSuffix(q, "_difference")
}

// causeOf is the cause whose quantity a need is, -1 if it is none: of a car's rule whatever
// it calls the quantity, but for the other car's, of other rules the candidate's alone.
func (h *hybrid) causeOf(need string, ofCar bool, except string) int {
	v, q := Split(need)
	k, is := h.cause[q]
	if !is || v == except && except != "" || !ofCar && v != h.own {
		return -1
	}
	return k
}

// needs are what a name is made from: by the candidate's rule, and by the baseline's where
// that stands in its place (then called as the candidate's are).
func (h *hybrid) needs(name string, byBase bool) []string {
	if !byBase {
		return h.Needs(name)
	}
	needs := h.Needs(h.basesName(name))
	called := make([]string, len(needs))
	for i, need := range needs {
		called[i] = h.called(need)
	}
	return called
}

// called is what the hybrid calls a need of a rule of the baseline.
func (h *hybrid) called(need string) string {
	if v, q := Split(need); v == h.base {
		return h.own + "." + q
	}
	return need
}

func (h *hybrid) basesName(name string) string {
	_, q := Split(name)
	return h.base + "." + q
}

// byBase reports whether the baseline's rule can stand in for the candidate's.
func (h *hybrid) byBase(name string) bool {
	return h.rest >= 0 && h.isOwn(name) && h.Missing(h.basesName(name)) == nil
}

// touches are the causes that a name rests on.
func (h *hybrid) touches(name string) split.Set {
	if s, known := h.touched[name]; known {
		return s
	}
	var s split.Set
	h.touched[name] = 0 // of a loop, which there is none
	ofCar := h.isOwn(name)
	worlds := []bool{false}
	if h.byBase(name) {
		worlds = append(worlds, true)
		s |= 1 << h.rest
	}
	for _, byBase := range worlds {
		for _, need := range h.needs(name, byBase) {
			if k := h.causeOf(need, ofCar, h.exception(byBase)); k >= 0 {
				s |= 1 << k
			} else {
				s |= h.touches(need)
			}
		}
	}
	h.touched[name] = s
	return s
}

// exception is the vehicle whose quantities a rule of a car means by their names: the
// candidate's may count from the baseline.
func (h *hybrid) exception(byBase bool) string {
	if byBase {
		return ""
	}
	return h.base
}

// with is what the hybrid calls a name, where these causes are made.
func (h *hybrid) with(name string, made split.Set) string {
	made &= h.touches(name)
	if h.touches(name) == 0 {
		return name
	}
	called := fmt.Sprintf("%s with %s%b", name, h.tag, made)
	h.of[called] = hybridName{name, made}
	return called
}

// output is what the hybrid calls what is asked of it.
func (h *hybrid) output(name string, made split.Set) string {
	if k := h.causeOf(name, false, ""); k >= 0 {
		return h.at(name, k, made)
	}
	return h.with(name, made)
}

// at is the quantity of a cause: the candidate's where that is made, else the baseline's.
func (h *hybrid) at(name string, cause int, made split.Set) string {
	_, q := Split(name)
	if made&(1<<cause) != 0 {
		return h.own + "." + q
	}
	return h.base + "." + q
}

// ruleOf finds the rule of a name of one of these hybrids, or of the study.
func ruleOf(hybrids ...*hybrid) func(name string) (model.Rule, error) {
	return func(name string) (model.Rule, error) {
		for _, h := range hybrids {
			if of, is := h.of[name]; is {
				return h.rule(name, of)
			}
		}
		return hybrids[0].Rule(name)
	}
}

func (h *hybrid) rule(name string, of hybridName) (model.Rule, error) {
	byBase := h.byBase(of.name) && of.made&(1<<h.rest) == 0
	from := of.name
	if byBase {
		from = h.basesName(from)
	}
	rule, err := h.Rule(from)
	if err != nil {
		return rule, err
	}
	if rule.Drawn() { // an input of its own, as the one or the other states it
		return model.Rule{Out: []string{name}, Needs: []string{from}, Eval: copied}, nil
	}
	ofCar := h.isOwn(of.name)
	needs := make([]string, len(rule.Needs))
	for i, need := range rule.Needs {
		if byBase {
			need = h.called(need)
		}
		if k := h.causeOf(need, ofCar, h.exception(byBase)); k >= 0 {
			needs[i] = h.at(need, k, of.made)
		} else {
			needs[i] = h.with(need, of.made)
		}
	}
	outs := make([]string, len(rule.Out))
	for i, out := range rule.Out {
		if byBase {
			out = h.called(out)
		}
		outs[i] = h.with(out, of.made)
	}
	rule.Needs, rule.Out = needs, outs
	return rule, nil
}

func copied(out, in [][]float64) { copy(out[0], in[0]) }
