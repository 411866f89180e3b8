package source

import (
	"maps"
	"slices"

	"proofmass/model/unit"
)

// Handlers are what a mapping may hold, by key.
type Handlers map[string]func(v Field)

// Read hands each key of a mapping to its handler and reports every other one.
// what names the mapping in messages.
func (h Handlers) Read(f Field, what string) {
	pairs, ok := f.Pairs(what + " is a mapping: key: value")
	if !ok {
		return
	}
	for _, p := range pairs {
		if handle := h[p.Name]; handle != nil {
			handle(p.Value)
		} else {
			p.unknown("not a key of "+what, slices.Sorted(maps.Keys(h)))
		}
	}
}

// With returns the handlers of both.
func (h Handlers) With(more Handlers) Handlers {
	all := maps.Clone(h)
	maps.Copy(all, more)
	return all
}

// unknown reports a key that is none of the allowed ones.
func (p Pair) unknown(found string, allowed []string) {
	if p.Key.doc.errs.Full() {
		p.Key.Err(found, "") // is counted, not shown: spare the search
		return
	}
	p.Key.Err(found, Suggest(p.Name, allowed))
}

// Suggest says which of the allowed words was meant, or lists them.
func Suggest(word string, allowed []string) string {
	if key := otherWord(word, allowed); key != "" {
		return `did you mean "` + key + `"?`
	}
	if near := Nearest(word, allowed); near != "" {
		return `did you mean "` + near + `"?`
	}
	return "allowed: " + Listed(allowed, "and")
}

// OneOf reads a word of a closed list.
func (f Field) OneOf(allowed ...string) (string, bool) {
	word, ok := f.Text("allowed: " + Listed(allowed, "or"))
	if ok && !slices.Contains(allowed, word) {
		f.Err(f.What(), SuggestOr(word, allowed))
		return "", false
	}
	return word, ok
}

// SuggestOr lists the allowed words and says which was meant.
func SuggestOr(word string, allowed []string) string {
	return "allowed: " + Listed(allowed, "or") + OrMeant(word, allowed)
}

// OrMeant goes behind what is allowed and says which word was meant, "" if none is near.
func OrMeant(word string, known []string) string {
	if near := Nearest(word, known); near != "" {
		return `; did you mean "` + near + `"?`
	}
	return ""
}

// Nearest is the known word that was most probably meant, "" if none is near. Unlike
// unit.Nearest alone it finds a name of one or two letters, one of them doubled.
func Nearest(word string, known []string) string {
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
