package model

// Traits are what the program must know of a quantity beside its number, declared at
// the quantity so that nobody else keeps a list of names. Names are those of
// quantities of the same model and, where it has several, of the same vehicle.
type Traits struct {
	Headline  int    // its place among those that every answer opens with, from 1; 0: it does not
	Beside    string // it is shown beside this one, wherever both can be had ...
	ByChange  bool   // ... by a candidate's change and not by itself
	Aside     bool   // it is for checks, and stored only where a study names it
	Levers    bool   // what a unit of each lever does to it is told of every vehicle
	Undivided bool   // it compares the vehicle with itself: no causes of it and no levers are told
	Silent    bool   // it is stored for what it warns of and not for its size
	Figure    string // the figure of vehicles that shows it, whether or not it is asked for; "" none
	BelowNil  string // what it means, in words, that it is negative

	PartOf  string // the whole that it is a part of
	IfAny   bool   // a part that most wholes lack: what does not state it has none
	RestOf  string // the whole of which it is what the known parts leave: below nil these outweigh it
	RouteTo string // the quantity to which it is a second route, and with which it should agree

	Cause string // to which the gain of a vehicle is counted where two differ in this, in words; "" to what reads it

	Credit Credit // how much of the baseline it may be said to make unnecessary

	Convention Convention // by which of several usual conventions figures that rest on it are made
	Certified  bool       // a certification gives it: a label, type approval

	NoValue string // what it means where it has none, though all that it is made from has

	Question    string // the quantity without which it is of no use
	HoldsDriver bool   // it is a mass on the vehicle's mass basis, which may count a driver in
	WholeCar    bool   // what states it is a car of its own, and no set of parts

	Words map[string]float64 // the words that stand for its values, which are the only ones
	Whole bool               // whole numbers alone make sense, where it is stated
	Usual Band
}

// A Convention is by which of several usual ways figures are made: whoever compares
// them with others has to know. It is told wherever what is asked for rests on the
// quantity that declares it. The zero Convention says nothing.
type Convention struct {
	Says       string   // a sentence; %s in it stands for the vehicles
	OfVariants bool     // only of candidates that are based on another vehicle
	Where      []string // only of vehicles of which one of these is stated, if there are any ...
	Unless     []string // ... and not of those of which one of these is
}

// A Credit is told as too much where it is more than one of the shares of the baseline. The
// zero Credit says nothing.
type Credit struct {
	Of     string // what is made unnecessary, in words
	Within []Share
}

// A Share is at most so much of a quantity, which a sentence calls so.
type Share struct {
	Of     string
	Most   float64
	Called string
}

// A Band is where a value usually lies, in SI. Outside it is odd and not wrong. The
// zero Band says nothing.
type Band struct {
	Low, High float64
	Source    string // where the band is from
	Slip      string // what was often meant where a value lies outside
}

// Odd reports whether x lies outside the band.
func (b Band) Odd(x float64) bool { return b != Band{} && (x < b.Low || x > b.High) }
