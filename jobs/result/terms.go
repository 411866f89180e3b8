package result

import "slices"

// Terms explains the words.
func (Of) Terms() []Term {
	return []Term{
		{Word: string(OfOutput), Meaning: "the row is of an output"},
		{Word: string(OfMargin), Meaning: "the row is of a claim's margin: how far inside the claim a draw lies, positive where the claim holds"},
		{Word: string(OfHolds), Meaning: "the row is of whether a claim holds: 1 where it does, 0 where it fails"},
	}
}

// Terms explains the words.
func (Order) Terms() []Term { return slices.Concat(shareTerms(), distanceTerms(), effectTerms()) }

// Terms explains the words.
func (Method) Terms() []Term {
	return []Term{
		{Word: string(SwappedBothWays), Meaning: "two designs A and B, each row run again with one input's values exchanged between them, both ways; intervals from replicates",
			Source: "Azzini, Mara and Rosati (2021), Environ. Model. Softw. 144; from memory"},
		{Word: string(CannotReach), Meaning: "the input cannot reach the output through the model: its index is 0, known without a run"},
		{Word: string(ScreenedOut), Meaning: "found negligible by screening and swapped as one with all others that were (the group others): its total index is from the screening rows, its first-order index is not known"},
		{Word: string(RandomOrders), Meaning: "inputs drawn anew one after the other, in random orders, given the inputs not drawn yet",
			Source: "Song, Nelson and Staum (2016), SIAM/ASA J. Uncertain. Quantif. 4; conditional draws by kriging"},
		{Word: string(AllSubsets), Meaning: "every set of inputs drawn anew, given the inputs outside it; for few inputs", Source: "Owen (2014), SIAM/ASA J. Uncertain. Quantif. 2"},
		{Word: string(Classes), Meaning: "the sample's own rows, without further runs, in classes of equal count of the input; bias taken off. Of more than 20,000 pairs of an input and an output or claim only the strongest have these figures; distances are for the strongest pairs always, 100 at most",
			Source: "Plischke, Borgonovo and Smith (2013), Eur. J. Oper. Res. 226"},
		{Word: string(LeastSquares), Meaning: "a straight line in all inputs, through the sample's own rows, without further runs; of a study with many inputs only for the outputs and margins that come first",
			Source: "Saltelli and Marivoet (1990), Reliab. Eng. Syst. Saf. 28; from memory"},
		{Word: string(FewSteps), Meaning: "screening: few rows, from each of which one input after the other is stepped, alone",
			Source: "Morris (1991), Technometrics 33; Campolongo, Saltelli and Cariboni (2011), Comput. Phys. Commun. 182"},
	}
}

// shareTerms are of shares of an output's variance.
func shareTerms() []Term {
	return []Term{
		{Word: string(FirstOrder), Meaning: "first-order index: share of the output's variance that goes when this input alone is known", Source: "Sobol' (1993), Math. Model. Comput. Exp. 1"},
		{Word: string(TotalOrder), Meaning: "total index: share of the output's variance that stays when all inputs but this one are known, so all that it does, alone and together with others",
			Source: "Homma and Saltelli (1996), Reliab. Eng. Syst. Saf. 52"},
		{Word: string(GroupOrder), Meaning: "first-order index of a group: share of the output's variance that goes when all inputs of the group are known", Source: "Sobol' (1993), Math. Model. Comput. Exp. 1"},
		{Word: string(GroupTotal), Meaning: "total index of a group: share of the output's variance that stays when all inputs but those of the group are known",
			Source: "Homma and Saltelli (1996), Reliab. Eng. Syst. Saf. 52"},
		{Word: string(SecondOrder), Meaning: "second-order index: share of the output's variance that goes when `input` and `other` are both known, beyond what each takes away alone",
			Source: "Sobol' (1993), Math. Model. Comput. Exp. 1"},
		{Word: string(ShapleyEffect), Meaning: "Shapley effect: the input's fair share of the output's variance where inputs are tied; the shares of all inputs add up to 1. Not a cause: an input gets a share of what it is tied to",
			Source: "Owen (2014), SIAM/ASA J. Uncertain. Quantif. 2"},
		{Word: string(WithCompanions), Meaning: "share of the output's variance that goes when this input, tied to others, is known: what they bring through the tie is in it",
			Source: "Sobol' (1993), Math. Model. Comput. Exp. 1"},
	}
}

// distanceTerms are of distances and of regression, from the sample's own rows.
func distanceTerms() []Term {
	return []Term{
		{Word: string(KSDistance), Meaning: "mean Kolmogorov-Smirnov distance between the output given the input and the output as a whole, 0 (no effect) to 1; for skew outputs",
			Source: "Pianosi and Wagener (2015), Environ. Model. Softw. 67"},
		{Word: string(DeltaDistance), Meaning: "half the mean area between the density of the output given the input and that of the output as a whole, 0 (no effect) to 1",
			Source: "Borgonovo (2007), Reliab. Eng. Syst. Saf. 92"},
		{Word: string(SRC), Meaning: "standardised regression coefficient: by how many of its standard deviations the output goes up, on a straight line in all inputs, as the input goes up by one of its own; its square is the first-order index where all is linear and nothing tied"},
		{Word: string(SRRC), Meaning: "standardised rank regression coefficient: by how many standard deviations of its ranks the output goes up, on a straight line in the ranks of all inputs, as the input goes up by one of its own; for outputs that go one way with each input",
			Source: "Iman and Conover (1979), Technometrics 21"},
		{Word: string(R2), Meaning: "share of the output's variance that a straight line in all inputs explains; the column input is empty"},
		{Word: string(RankR2), Meaning: "share of the variance of the output's ranks that a straight line in the ranks of all inputs explains; the column input is empty"},
	}
}

// effectTerms are of elementary effects.
func effectTerms() []Term {
	const unit = "in standard deviations of the output for the whole range of the input"
	return []Term{
		{Word: string(MeanEffect), Meaning: "mean elementary effect: how far the output goes up as the input alone does, " + unit, Source: "Morris (1991), Technometrics 33"},
		{Word: string(AbsoluteEffect), Meaning: "mean size of the elementary effects: how far the output goes, up or down, as the input alone goes up, " + unit,
			Source: "Campolongo, Cariboni and Saltelli (2007), Environ. Model. Softw. 22"},
		{Word: string(EffectSD), Meaning: "standard deviation of the elementary effects, " + unit + "; great where the input acts by a curve or together with others",
			Source: "Morris (1991), Technometrics 33"},
	}
}

// Terms explains the words.
func (Form) Terms() []Term {
	return []Term{
		{Word: string(OneAtATime), Meaning: "bar of tornado.parquet: the output with the input at its 5th and its 95th percentile and all other inputs at their medians"},
		{Word: string(Conditional), Meaning: "bar of tornado.parquet: the mean of the output over the draws with the input in its lowest and in its highest twentieth"},
	}
}

// Terms explains the words.
func (Shape) Terms() []Term {
	return []Term{
		{Word: string(OneWay), Meaning: "over the input's range the mean of the output only rises or only falls, as far as the sample can tell"},
		{Word: string(Turns), Meaning: "over the input's range the mean of the output both rises and falls, by more than its intervals explain: its swing from end to end tells too little"},
	}
}

// Terms explains the words.
func (Role) Terms() []Term {
	return []Term{
		{Word: string(RoleInput), Meaning: "an uncertain input: a value a draw"},
		{Word: string(RoleConstant), Meaning: "an input with one value"},
		{Word: string(RoleFormula), Meaning: "an input that the study makes of others by a formula"},
		{Word: string(RoleOutput), Meaning: "computed, and asked for"},
		{Word: string(RoleIntermediate), Meaning: "computed on the way and kept, though nobody asked for it"},
		{Word: string(RoleClaim), Meaning: "whether a claim holds, 1 or 0, or how far inside it a draw lies"},
	}
}

// Terms explains the words.
func (Origin) Terms() []Term {
	return []Term{
		{Word: string(Stated), Meaning: "the study states it"},
		{Word: string(Default), Meaning: "the study says nothing of it: the catalogue's default"},
		{Word: string(Computed), Meaning: "the model makes it of other quantities"},
	}
}

// Terms explains the words.
func (ChanceMethod) Terms() []Term {
	const wilson = "Wilson (1927), J. Am. Stat. Assoc. 22"
	return []Term{
		{Word: "replicates", Meaning: "interval of a chance from its spread over replicates: Wilson's, with as many rows as independent draws would need for that spread", Source: wilson},
		{Word: "wilson", Meaning: "Wilson's interval of a chance, as if all rows were independent", Source: wilson},
		{Word: "clopper_pearson", Meaning: "Clopper and Pearson's interval of a chance, where fewer than 5 rows hold or fewer than 5 fail", Source: "Clopper and Pearson (1934), Biometrika 26"},
		{Word: string(WeightedChance), Meaning: "Wilson's interval of a chance of weighted rows, with as many rows as their replicates show", Source: wilson},
		{Word: string(RareChance), Meaning: "chance of a claim that fewer than 50 draws hold, or fail, by subset simulation: 16 populations of 1000 draws climb towards it level by level, moved in normal scores; Student's t over the populations. Where they do not come to the claim the chance is 0, or 1, and the other end of the interval is that of the last level",
			Source: "Au and Beck (2001), Prob. Eng. Mech. 16; Papaioannou, Betz, Zwirglmaier and Straub (2015), Prob. Eng. Mech. 41; from memory"},
		{Word: "none", Meaning: "no interval: there are no rows, or too few in replicates, or their weights are not to be relied on"},
	}
}

// Terms explains the words.
func (IntervalMethod) Terms() []Term {
	return []Term{
		{Word: "replicates", Meaning: "intervals from the spread over replicates, with Student's t"},
		{Word: "replicates and order_statistics", Meaning: "mean from the spread over replicates; some percentile by order statistics, as if rows were independent: too wide, never too narrow"},
		{Word: "independent", Meaning: "rows taken as independent: Student's t for the mean, order statistics for percentiles"},
		{Word: "none", Meaning: "no interval: too few rows"},
	}
}

// Terms explains the words.
func (Verdict) Terms() []Term {
	return []Term{
		{Word: string(Stands), Meaning: "holds in at least 19 of 20 draws: the whole interval of its chance lies there"},
		{Word: string(InDoubt), Meaning: "holds in more than 1 and less than 19 of 20 draws: the whole interval of its chance lies there"},
		{Word: string(Falls), Meaning: "holds in at most 1 of 20 draws: the whole interval of its chance lies there"},
		{Word: string(TooFew), Meaning: "too few draws to say which of these: the interval of the chance reaches over a limit, or there is none"},
		{Word: string(NotJudged), Meaning: "can't be judged: there are no draws, or most of them are infeasible or contradict themselves"},
	}
}

// Terms explains the words.
func (Sense) Terms() []Term {
	return []Term{
		{Word: string(AtLeast), Meaning: "as much as announced, or more; of what is announced with a minus: as far below, or further"},
		{Word: string(AtMost), Meaning: "as much as announced, or less; of what is announced with a minus: as far below, or less far"},
		{Word: string(About), Meaning: "as announced, up to half of what it is rounded to on either side"},
	}
}

// Terms explains the words.
func (Side) Terms() []Term {
	return []Term{
		{Word: string(Above), Meaning: "holds at the limit and above"},
		{Word: string(Below), Meaning: "holds at the limit and below"},
		{Word: string(Within), Meaning: "holds within half of rounded_to of what was announced"},
	}
}

// Terms explains the words.
func (Learning) Terms() []Term {
	const source = "Raiffa and Schlaifer (1961), Applied Statistical Decision Theory; by classes Strong and Oakley (2013), Med. Decis. Making 33; from memory"
	return []Term{
		{Word: string(LearntByClasses), Meaning: "worth of learning one thing, from the sample's own rows in classes of what would be learnt: half of the gain with each class's likelier answer taken from its own rows (too great) and from the other replicates' rows (too small)", Source: source},
		{Word: string(LearntByPairs), Meaning: "worth of learning two things together, by classes of both, where no single one turns the likelier answer"},
		{Word: string(LearntByNone), Meaning: "too few draws to tell"},
	}
}

// Terms explains the words.
func (Turning) Terms() []Term {
	return []Term{
		{Word: string(TurnsToHold), Meaning: "the nearest point at which the claim holds: at the middle of all inputs it fails"},
		{Word: string(TurnsToFail), Meaning: "the nearest point at which the claim fails: at the middle of all inputs it holds"},
	}
}

// Terms explains the words.
func (Reached) Terms() []Term {
	return []Term{
		{Word: string(AtMinimum), Meaning: "the most probable point: the nearest to the middle in normal scores, by the conditions of a minimum",
			Source: "Hasofer and Lind (1974), J. Eng. Mech. 100; Rackwitz and Fiessler (1978), Comput. Struct. 9; from memory"},
		{Word: string(NearestMet), Meaning: "the nearest point that the search met, as in a corner of several conditions or at a step; there may be a nearer one"},
		{Word: string(OutOfReach), Meaning: "no point within 6 standard deviations of each input was found that turns the claim: the row has the best one"},
	}
}
