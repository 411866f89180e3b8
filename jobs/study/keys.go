package study

import (
	"maps"
	"slices"

	"proofmass/model/unit"
)

// handlers are what a mapping may hold, by key.
type handlers map[string]func(v field)

// read hands each key of a mapping to its handler and reports every other one.
// what names the mapping in messages; later are keys of the format that this
// version does not know yet.
func (h handlers) read(f field, what string, later ...string) {
	pairs, ok := f.pairs(what + " is a mapping: key: value")
	if !ok {
		return
	}
	for _, p := range pairs {
		switch handle := h[p.name]; {
		case handle != nil:
			handle(p.value)
		case slices.Contains(later, p.name):
			p.notBuilt()
		default:
			p.unknown("not a key of "+what, slices.Sorted(maps.Keys(h)))
		}
	}
}

// with returns the handlers of both.
func (h handlers) with(more handlers) handlers {
	all := maps.Clone(h)
	maps.Copy(all, more)
	return all
}

// notBuilt refuses a key that this version of the program cannot honour.
func (p pair) notBuilt() {
	p.key.err("not built yet", "leave "+p.name+" out for now")
}

// unknown reports a key that is none of the allowed ones.
func (p pair) unknown(found string, allowed []string) {
	if p.key.src.errs.full() {
		p.key.err(found, "") // is counted, not shown: spare the search
		return
	}
	p.key.err(found, suggest(p.name, allowed))
}

// suggest says which of the allowed words was meant, or lists them.
func suggest(word string, allowed []string) string {
	if key := otherWord(word, allowed); key != "" {
		return `did you mean "` + key + `"?`
	}
	if near := nearest(word, allowed); near != "" {
		return `did you mean "` + near + `"?`
	}
	return "allowed: " + listed(allowed, "and")
}

// oneOf reads a word of a closed list.
func (f field) oneOf(allowed ...string) (string, bool) {
	word, ok := f.text("allowed: " + listed(allowed, "or"))
	if ok && !slices.Contains(allowed, word) {
		f.err(f.what(), suggestOr(word, allowed))
		return "", false
	}
	return word, ok
}

// suggestOr lists the allowed words and says which was meant.
func suggestOr(word string, allowed []string) string {
	return "allowed: " + listed(allowed, "or") + orMeant(word, allowed)
}

// orMeant goes behind what is allowed and says which word was meant, "" if none is near.
func orMeant(word string, known []string) string {
	if near := nearest(word, known); near != "" {
		return `; did you mean "` + near + `"?`
	}
	return ""
}

// nearest is the known word that was most probably meant, "" if none is near. Unlike
// unit.Nearest alone it finds a name of one or two letters, one of them doubled.
func nearest(word string, known []string) string {
	if near := unit.Nearest(word, known); near != "" || len(word) > 3 {
		return near
	}
	for i := 1; i < len(word); i++ {
		if single := word[:i] + word[i+1:]; word[i] == word[i-1] && slices.Contains(known, single) {
			return single
		}
	}
	return ""
}
