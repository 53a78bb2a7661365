package ionflow

import (
	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
)

// barArgs are the arguments of an air-assisted bar with a row of holes.
func barArgs() []compute.Arg {
	return args(arg("current", "A/m", 1e-9, 0.1, "emission per polarity"), arg("captured", "1", 1e-4, 1, "share that the air takes along"), arg("balance", "1", -1, 1, ""), arg("hole", "m", 1e-4, 1e-2, "diameter"), arg("pitch", "m", 1e-3, 1, ""),
		arg("discharge", "1", 0.3, 1, ""), arg("gauge", "Pa", 10, 20e5, ""), aAmb, arg("temperature", "K", 200, 400, ""), arg("distance", "m", 1e-3, 10, ""), aSigma, aV, aF, aPlus, aMinus, arg("alpha", "m³/s", 1e-15, 1e-9, ""))
}

// rowOf makes the specification of barArgs.
func rowOf(a []float64) (AirBarSpec, Blow, error) {
	e, err := NewEmitter(EmitterSpec{Kind: DC, Current: units.LineCurrent(a[0]), Balance: a[2]})
	spec := AirBarSpec{Emitter: e, Captured: a[1], Jet: jet.JetSpec{Kind: jet.Row, Width: units.Length(a[3]), Pitch: units.Length(a[4])}, Distance: units.Length(a[9]),
		Ions: Ions{Plus: units.Mobility(a[13]), Minus: units.Mobility(a[14]), Alpha: units.RecombinationCoefficient(a[15])}}
	return spec, Blow{Gauge: units.GaugePressure(a[6]), Ambient: units.Pressure(a[7]), Temperature: units.Temperature(a[8]), Discharge: a[5]}, err
}

func airBarComputation() compute.Entry {
	return compute.Entry{Name: "ionflow.AirBar", Doc: "An air-assisted bar with a row of holes: what its stream carries to the web, both ceilings, and what it leaves.",
		Args: barArgs(),
		Results: args(out("plus", "A/m", "carried"), out("minus", "A/m", "carried"), out("recombination", "A/m", "ceiling"), out("repulsion", "A/m", "ceiling"), out("speed", "m/s", "of the plume"), out("breadth", "m", "of the plume"),
			out("residual", "C/m²", "magnitude"), out("mass", "kg/(s·m)", "air"), out("efficiency", "1", ""), out("source_plus", "1/m³", "density at the source")),
		Covers: names("NewAirBar", "AirBarSpec.Blown", "AirBar.At", "AirBar.Neutraliser", "AirBar.Residual", "AirBar.Efficiency", "AirBar.Source"),
		Source: derived("nozzle, jet and closed-form population of this package"),
		Eval: func(r, a []float64) error {
			spec, air, err := rowOf(a)
			if err != nil {
				return err
			}
			b, m, err := spec.Blown(air)
			if err != nil {
				return err
			}
			if _, err := b.Neutraliser(); err != nil {
				return err
			}
			d := b.At(units.Length(a[9]))
			r[0], r[1], r[2], r[3] = float64(d.PlusCurrent), float64(d.MinusCurrent), float64(d.Recombination), float64(d.Repulsion)
			r[4], r[5], r[6], r[7] = float64(d.Speed), float64(d.Breadth), float64(b.Residual(units.SurfaceChargeDensity(a[10]), units.Speed(a[11]), a[12])), m
			p, _ := b.Source()
			r[8], r[9] = 0, float64(p)
			if a[10] != 0 {
				r[8] = float64(b.Efficiency(units.SurfaceChargeDensity(a[10]), units.Speed(a[11]), a[12]))
			}
			return nil
		}}
}

// searchComputation looks backwards: what a bar needs for a wanted residual.
func searchComputation() compute.Entry {
	return compute.Entry{Name: "ionflow.AirBar.FarthestFor", Doc: "What an air-assisted bar needs to leave a wanted residual: the farthest distance, or at its distance the least emission or pressure, the rest as given.",
		Args:    append(barArgs(), arg("want", "C/m²", 1e-12, 1, "magnitude of the residual"), choice("search", "which quantity", "distance 5 mm … 3 m", "emission 1 nA/m … 0.1 A/m", "gauge pressure 100 Pa … 10 bar")),
		Results: args(out("distance", "m", "0 if not searched"), out("emission", "A/m", "0 if not searched"), out("gauge", "Pa", "0 if not searched")),
		Covers:  names("AirBar.FarthestFor", "AirBar.LeastCurrentFor", "LeastGaugeFor"), Source: derived("scan and bisection over the bar of ionflow.AirBar"),
		Eval: func(r, a []float64) error {
			spec, air, err := rowOf(a)
			if err != nil {
				return err
			}
			r[0], r[1], r[2] = 0, 0, 0
			want, sigma, v := units.SurfaceChargeDensity(a[16]), units.SurfaceChargeDensity(a[10]), units.Speed(a[11])
			if a[17] == 2 {
				g, err := LeastGaugeFor(spec, air, want, sigma, v, a[12], units.GaugePressure(100), 10*units.BarGauge)
				r[2] = float64(g)
				return err
			}
			b, _, err := spec.Blown(air)
			if err != nil {
				return err
			}
			if a[17] == 1 {
				i, err := b.LeastCurrentFor(want, sigma, v, a[12], units.LineCurrent(1e-9), units.LineCurrent(0.1))
				r[1] = float64(i)
				return err
			}
			x, err := b.FarthestFor(want, sigma, v, a[12], 5*units.Millimetre, 3*units.Metre)
			r[0] = float64(x)
			return err
		}}
}

// farthestComputation does the same for a bar without air.
func farthestComputation() compute.Entry {
	return compute.Entry{Name: "ionflow.FarthestUnassisted", Doc: "The farthest distance, 5 mm … 1 m, at which an AC bar without air leaves a wanted residual (points 10 mm apart that start at 3 kV, no crosswind).",
		Args: args(arg("current", "A/m", 1e-9, 0.1, "emission per polarity"), arg("voltage", "V", 3.1e3, 50e3, "of the points"), arg("switch", "Hz", 0.01, 1e5, ""), arg("want", "C/m²", 1e-12, 1, "magnitude of the residual"),
			aSigma, aV, aF, aPlus, aMinus),
		Results: args(out("distance", "m", "")), Covers: names("FarthestUnassisted"), Source: derived("scan and bisection over the bar of ionflow.NewUnassisted"),
		Eval: func(r, a []float64) error {
			e, err := NewEmitter(EmitterSpec{Kind: AC, Current: units.LineCurrent(a[0]), Voltage: units.Voltage(a[1]), Switch: units.Frequency(a[2])})
			if err != nil {
				return err
			}
			s := UnassistedSpec{Emitter: e, Pitch: 10 * units.Millimetre, Start: 3 * units.Kilovolt, Ions: Ions{Plus: units.Mobility(a[7]), Minus: units.Mobility(a[8])}}
			x, err := FarthestUnassisted(s, units.SurfaceChargeDensity(a[3]), units.SurfaceChargeDensity(a[4]), units.Speed(a[5]), a[6], 5*units.Millimetre, 1*units.Metre)
			r[0] = float64(x)
			return err
		}}
}
