package plan

// WidthRows is how many draws of each replicate tell what other widths of guesses do to a
// chance: 16,384 in 16 replicates know it to half a point and better.
const WidthRows = 1024

// mostAccountValues bounds what is held of rival accounts: rows times columns, of all of them.
const mostAccountValues = 24_000_000

// ToldColumns are the columns that every rival account is told by: what the model computes and
// somebody asked for.
func (p *Plan) ToldColumns() []Column {
	var told []Column
	for _, c := range p.Columns {
		if c.Input == nil && !c.Aside {
			told = append(told, c)
		}
	}
	return told
}

// AccountColumns is how many columns are held of each: what it is told by, a weight and a
// likelihood.
func (p *Plan) AccountColumns() int { return len(p.ToldColumns()) + 2*len(p.Claims) + 2 }

// AccountRows is how many rows of each replicate every rival account is told by.
func (p *Plan) AccountRows() int {
	return max(1, mostAccountValues/(p.AccountColumns()*max(1, len(p.Study.Accounts))*p.Sample.Replicates))
}

// first is how many rows the first ones of each replicate are.
func (p *Plan) first(each int) int {
	all := 0
	for r := range p.Sample.Replicates {
		all += min(each, p.Sample.Bound(r+1)-p.Sample.Bound(r))
	}
	return all
}

// Beside are the rows that are evaluated beside the sample and not stored: for guessed widths,
// halved and doubled, and for rival accounts.
func (p *Plan) Beside() (widths, accounts int) {
	if len(p.Claims) > 0 && p.Choosing == nil && len(p.Guessed()) > 0 {
		widths = 2 * p.first(WidthRows)
	}
	accounts = len(p.Study.Accounts) * p.first(p.AccountRows())
	if len(p.Facts) > 0 && accounts > 0 {
		accounts += 2 * len(p.Study.Accounts) * p.first(WidthRows)
	}
	return widths, accounts
}
