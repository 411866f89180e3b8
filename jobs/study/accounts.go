package study

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"

	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
)

// An Account is one of rival accounts of what is so: a study of its own, which is the file with
// the account's lines put over it.
type Account struct {
	Name   string
	Weight float64 // before what was measured; all add up to 1
	Study  *Study  // with no accounts of its own
	Free   FreeText
}

// accountDecl is an account as the study states it.
type accountDecl struct {
	Account
	key     source.Pair
	body    source.Field
	weighed bool // its weight is stated
}

const (
	fewestAccounts = 2
	mostAccounts   = 8
)

// accountSections are what an account may state, and how many levels of names of each stay
// where it does not state them.
var accountSections = map[string]int{"inputs": 1, "own": 1, "vehicles": 2, "together": 0}

// accountsOf reads the rival accounts of a study: none where it has no `either`, or where that
// is not understood.
func accountsOf(root source.Field, errs *source.Collector) []*accountDecl {
	var either, choices source.Field
	sections, _ := topLevel(root)
	for _, p := range sections {
		switch p.Name {
		case "either":
			either = p.Value
		case "choices":
			choices = p.Key
		}
	}
	if either == (source.Field{}) {
		return nil
	}
	if choices != (source.Field{}) {
		choices.Err("choices beside either", "not built yet: leave out one of the two")
	}
	before := errs.Count()
	pairs, ok := either.Pairs("either is a mapping of rival accounts: {all_filled: {weight: 60 %, vehicles: {...}}, ends_empty: {...}}")
	if !ok {
		return nil
	}
	if len(pairs) < fewestAccounts || len(pairs) > mostAccounts {
		either.Err(fmt.Sprintf("%d accounts", len(pairs)), "rival accounts are two to eight")
		return nil
	}
	var all []*accountDecl
	for _, p := range pairs {
		if named(p, "account") {
			all = append(all, readAccount(p, root))
		}
	}
	if errs.Count() > before {
		return nil
	}
	weigh(either, all)
	return all
}

func topLevel(root source.Field) ([]source.Pair, bool) {
	if !root.IsMapping() {
		return nil, false
	}
	return root.Pairs("")
}

// readAccount reads what is an account's own; its lines are read when they are put over the
// study's.
func readAccount(p source.Pair, root source.Field) *accountDecl {
	d := &accountDecl{key: p, body: p.Value}
	d.Name = p.Name
	stated := 0
	known := uncertain.FreeKeys(&d.Free).With(source.Handlers{
		"weight": func(f source.Field) {
			x, ok := uncertain.Plain(f, "a weight")
			if ok && !(x > 0) {
				f.Err("weight "+f.Raw(), "a weight is more than 0; an account that nobody believes is left out")
			}
			d.Weight, d.weighed = x, true
		},
	})
	for section := range accountSections {
		known[section] = func(f source.Field) { stated += f.Len() }
	}
	known["vehicles"] = func(f source.Field) {
		stated += f.Len()
		ofStudy(f, root)
	}
	before := p.Value.Errors().Count()
	known.Read(p.Value, "an account")
	if stated == 0 && p.Value.Errors().Count() == before {
		d.body = source.Field{} // it is the study as it stands
	}
	return d
}

// ofStudy refuses vehicles that only an account would have: no other one could be compared.
func ofStudy(vehicles, root source.Field) {
	var names []string
	sections, _ := topLevel(root)
	for _, s := range sections {
		if s.Name == "vehicles" && s.Value.IsMapping() {
			pairs, _ := s.Value.Pairs("")
			for _, p := range pairs {
				names = append(names, p.Name)
			}
		}
	}
	pairs, _ := vehicles.Pairs("vehicles is a mapping: name: what the account says of it")
	for _, p := range pairs {
		if !slices.Contains(names, p.Name) {
			p.Key.Err(source.Quote(p.Name)+" is no vehicle of this study", suggestNames(p.Name, names))
		}
	}
}

// weigh makes the weights add up to 1; where none is stated all are alike.
func weigh(either source.Field, all []*accountDecl) {
	sum, stated := 0.0, 0
	for _, d := range all {
		if d.weighed {
			stated++
			sum += d.Weight
		}
	}
	if stated != 0 && stated != len(all) {
		either.Err("some accounts have a weight, others none", "all have one, or none has: then all are believed alike")
		return
	}
	for _, d := range all {
		if stated == 0 {
			d.Weight = 1 / float64(len(all))
		} else {
			d.Weight /= sum
		}
	}
}

// over is the study with the lines of an account put over it.
func (d *accountDecl) over(root source.Field) source.Field {
	if d.body == (source.Field{}) {
		return root
	}
	return root.Overlaid(d.body, accountSections, "displaced", "added")
}

// readAccounts reads the study as each account has it: s itself is as the first has it.
func (s *Study) readAccounts(root source.Field, all []*accountDecl, data []byte, o Options, errs *source.Collector) {
	digest := sha256.New()
	for i, d := range all {
		account := s
		if i > 0 {
			account = newStudy(s.Path, data, o)
		}
		resolve(account, declare(account, d.over(root), o, errs), errs)
		if errs.Count() > 0 {
			return
		}
		fmt.Fprintln(digest, account.NumbersDigest)
		d.Study = account
	}
	s.NumbersDigest = hex.EncodeToString(digest.Sum(nil))
	for _, d := range all {
		as := *d.Study
		as.Accounts = nil
		d.Account.Study = &as
		s.Accounts = append(s.Accounts, d.Account)
	}
}
