package study

import (
	"proofmass/jobs/study/source"
	"proofmass/jobs/study/uncertain"
	"proofmass/model/unit"
)

// A Gauge is a measurement that could be made: of an output or an input, with an error of its
// own, at a price.
type Gauge struct {
	Of    string  // full name of the output or input
	SD    float64 // standard deviation of its error, SI
	Price float64 // in the study's money; 0: not stated
	Unit  unit.Unit
	Free  FreeText
	Place Place
}

// gaugeDecl is a gauge as the study states it.
type gaugeDecl struct {
	Gauge
	of, sd source.Field
}

// mostGauges bounds the measurements that could be made.
const mostGauges = 50

const gaugeForm = "a measurement that could be made is {of: OUTPUT or INPUT, sd: 4 kg}, and price: 60 where its price is known"

// couldMeasure reads what could be measured, how well, and at what price.
func (r *reader) couldMeasure(v source.Field) {
	list, ok := v.List("could_measure is a list: [{of: bonded.kerb_mass, sd: 4 kg, price: 60}]")
	if !ok || !v.AtMost(mostGauges, "measurements that could be made") {
		return
	}
	for _, f := range list {
		r.gauge(f)
	}
}

func (r *reader) gauge(v source.Field) {
	d := &gaugeDecl{}
	d.Place = v.Place()
	hasSD := false
	known := uncertain.FreeKeys(&d.Free).With(source.Handlers{
		"of":    func(f source.Field) { d.of = f; d.Of, _ = f.Text("the name of an output or an input is expected") },
		"sd":    func(f source.Field) { d.sd, hasSD = f, true },
		"price": func(f source.Field) { d.Price, _ = r.numbers.Price(f) },
	})
	before := r.errs.Count()
	known.Read(v, "a measurement of could_measure")
	switch {
	case r.errs.Count() > before:
	case d.Of == "":
		v.Err("no of", gaugeForm)
	case !hasSD:
		v.Err("no sd", gaugeForm+"; what is learnt without error is the uncertain input itself, with a price beside it")
	default:
		r.gauges = append(r.gauges, d)
	}
}

// checkGauges looks up what could be measured, and reads how well in its unit.
func (r *resolver) checkGauges() {
	if r.carless() || r.unclear {
		return
	}
	for _, d := range r.gauges {
		if r.gaugeType(d) && r.computable(d.of, 0, d.Of) && !r.hangsOnDraws(d.Of) {
			d.of.Err(d.Of+" is the same in every draw", "a measurement tells of what hangs on an uncertain input")
		}
	}
}

// gaugeType reads how well a gauge measures. It reports whether all is right.
func (r *resolver) gaugeType(d *gaugeDecl) bool {
	var temperature, ok bool
	if d.Unit, temperature, ok = r.measurable(d.of, d.Of); !ok {
		return false
	}
	if d.SD, ok = r.numbers.Scale(d.Of, d.Unit, temperature).Difference(d.sd); !ok {
		return false
	}
	if !(d.SD > 0) {
		d.sd.Err(d.sd.What(), "the error of a gauge is more than 0")
	}
	return d.SD > 0
}

// hangsOnDraws reports whether a quantity reads an uncertain input.
func (r *resolver) hangsOnDraws(name string) bool {
	for reached := range r.graph.Reach(name) {
		if in, ok := r.graph.Input(reached); ok && in.Kind == Uncertain {
			return true
		}
	}
	return false
}

// fillGauges puts them into the study.
func (r *resolver) fillGauges() {
	for _, d := range r.gauges {
		r.s.Gauges = append(r.s.Gauges, d.Gauge)
		r.s.past(d.Of+" could be measured", d.Free)
	}
}
