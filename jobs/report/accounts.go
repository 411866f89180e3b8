package report

import (
	"fmt"
	"strings"
)

// Accounts are rival accounts of what is so, and what each says of the claims and outputs.
type Accounts struct {
	Told     string          `json:"told"`     // the account that the rest of the answer is of
	Measured bool            `json:"measured"` // then weights after it differ from those before
	Each     []Account       `json:"each"`
	Claims   []AccountClaim  `json:"claims"`
	Outputs  []AccountOutput `json:"outputs"`
}

// An Account is one of them, and how far it is believed.
type Account struct {
	Name    string   `json:"account"`
	Before  float64  `json:"weight_before"`
	After   float64  `json:"weight_after"`
	Low     *float64 `json:"low"`
	High    *float64 `json:"high"`
	Halved  *float64 `json:"weight_halved"`
	Doubled *float64 `json:"weight_doubled"`
	ESS     float64  `json:"ess"`
	Source  string   `json:"source,omitempty"`
}

// An AccountClaim is a claim as all accounts mixed have it, then as each has it.
type AccountClaim struct {
	Name  string  `json:"claim"`
	Mixed Claim   `json:"mixed"`
	Each  []Claim `json:"each"` // in the order of the accounts
}

// An AccountOutput is an output as all accounts mixed have it, then as each has it.
type AccountOutput struct {
	Name  string   `json:"output"`
	Mixed Spread   `json:"mixed"`
	Each  []Spread `json:"each"`
}

func (t *tables) rivals() *Accounts {
	if len(t.accounts) == 0 {
		return nil
	}
	a := &Accounts{Told: t.accounts[0].Account}
	for i := range t.accounts {
		r := &t.accounts[i]
		a.Measured = a.Measured || r.LogEvidence == r.LogEvidence
		a.Each = append(a.Each, Account{r.Account, r.Before, r.After, Known(r.Low), Known(r.High), Known(r.Halved), Known(r.Doubled), r.ESS, r.Source})
	}
	at := map[string]int{}
	for i := range t.accountClaims {
		r := &t.accountClaims[i]
		c := Claim{Name: r.Claim, Low: Known(r.ChanceLow), High: Known(r.ChanceHigh), Method: string(r.Method), Held: r.Held, Failed: r.Failed, Infeasible: r.Infeasible, Rows: r.Rows, Verdict: r.Verdict}
		if r.Chance == r.Chance {
			c.Chance = r.Chance
		}
		c.Frequency = frequency(c)
		if r.Chance != r.Chance {
			c.Rows, c.Frequency = 0, "what was measured leaves no draw of it"
		}
		k, there := at[r.Claim]
		if !there {
			k = len(a.Claims)
			at[r.Claim] = k
			a.Claims = append(a.Claims, AccountClaim{Name: r.Claim})
		}
		if r.Account == "" {
			a.Claims[k].Mixed = c
		} else {
			a.Claims[k].Each = append(a.Claims[k].Each, c)
		}
	}
	t.rivalOutputs(a)
	return a
}

func (t *tables) rivalOutputs(a *Accounts) {
	at := map[string]int{}
	for i := range t.accountOutputs {
		r := &t.accountOutputs[i]
		s := Spread{Unit: r.Unit, P05: Known(r.P05), P50: Known(r.P50), P95: Known(r.P95)}
		k, there := at[r.Output]
		if !there {
			k = len(a.Outputs)
			at[r.Output] = k
			a.Outputs = append(a.Outputs, AccountOutput{Name: r.Output})
		}
		if r.Account == "" {
			a.Outputs[k].Mixed = s
		} else {
			a.Outputs[k].Each = append(a.Outputs[k].Each, s)
		}
	}
}

// hundreds is a weight as of 100.
func hundreds(weight float64) string { return Hundred(weight) + " in 100" }

// Weight says how far an account is believed, before and after what was measured.
func (a *Accounts) Weight(x *Account) string {
	if !a.Measured {
		return "believed " + hundreds(x.Before) + "; nothing was measured that would tell"
	}
	text := "believed " + hundreds(x.Before) + ", after what was measured " + hundreds(x.After)
	if x.After == 0 && x.High != nil {
		text = "believed " + hundreds(x.Before) + ", after what was measured less than " + hundreds(*x.High)
	}
	if x.Halved != nil && x.Doubled != nil {
		text += fmt.Sprintf(" (%s and %s with all guessed widths halved and doubled)", Hundred(*x.Halved), Hundred(*x.Doubled))
	}
	return text
}

// Sentence says what the accounts make of a claim.
func (a *Accounts) Sentence(c *AccountClaim) string {
	parts := []string{"mixed " + c.Mixed.Frequency}
	for i := range c.Each {
		parts = append(parts, a.Each[i].Name+" "+c.Each[i].Frequency)
	}
	return strings.Join(parts, "; ")
}

// Agree reports whether all accounts come to one verdict on a claim.
func (c *AccountClaim) Agree() bool {
	for i := range c.Each {
		if c.Each[i].Verdict != c.Each[0].Verdict {
			return false
		}
	}
	return true
}

// Of finds what the accounts make of a claim, nil where there are none.
func (a *Accounts) Of(claim string) *AccountClaim {
	if a == nil {
		return nil
	}
	for i := range a.Claims {
		if a.Claims[i].Name == claim {
			return &a.Claims[i]
		}
	}
	return nil
}

// caution says of which account the rest is.
func (a *Accounts) caution() string {
	return "There are rival accounts: what is told of claims, sizes, causes and measurements is of the account " + a.Told + " alone, but where accounts are named."
}

// writeAccounts tells what each account says.
func (a *Answer) writeAccounts(b *page) {
	x := a.Accounts
	if x == nil {
		return
	}
	b.WriteString("\nWHAT IF IT IS OTHERWISE?\n")
	b.para("Rival accounts, each with the same draws; the rest of this answer is of "+x.Told+".", "  ")
	for i := range x.Each {
		b.item(Printable(x.Each[i].Name) + ": " + x.Weight(&x.Each[i]))
	}
	for i := range x.Claims {
		c := &x.Claims[i]
		b.item(ClaimName(c.Name) + ": " + x.Sentence(c))
	}
	for i := range x.Outputs {
		o := &x.Outputs[i]
		if !o.differs() {
			continue
		}
		text := o.Name + ": mixed " + o.Mixed.Words()
		for k := range o.Each {
			text += "; " + x.Each[k].Name + " " + o.Each[k].Words()
		}
		b.item(text)
	}
}

// differs reports whether an output's draws are not the same of all accounts.
func (o *AccountOutput) differs() bool {
	for i := range o.Each {
		if s, t := &o.Each[i], &o.Each[0]; !alike(s.P05, t.P05) || !alike(s.P50, t.P50) || !alike(s.P95, t.P95) {
			return true
		}
	}
	return false
}

// Words are the middle and nine in ten draws.
func (s *Spread) Words() string {
	if s.P05 == nil || s.P50 == nil || s.P95 == nil {
		return "not known"
	}
	return WithUnit(Short(*s.P50), s.Unit) + " (" + Short(*s.P05) + " to " + Short(*s.P95) + ")"
}

// shortAccounts tells the weights, in the short answer.
func (a *Answer) shortAccounts(b *page) {
	if a.Accounts == nil {
		return
	}
	b.WriteString("\n")
	var each []string
	for i := range a.Accounts.Each {
		each = append(each, Printable(a.Accounts.Each[i].Name)+" "+a.Accounts.Weight(&a.Accounts.Each[i]))
	}
	b.under("Rival accounts, of which what follows is "+Printable(a.Accounts.Told)+": ", strings.Join(each, "; ")+".")
}
