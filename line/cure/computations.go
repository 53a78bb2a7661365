package cure

import (
	_ "embed" // for the sentences
	"math"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// slitter is the line of the entries: an unwind, two idlers on face B, a bar on A, a
// nip, one idler on A and two on B, a bar on A and a lay-on roller on A.
type slitter struct {
	UnwindA, UnwindB, First, NipA, NipB, IdlerA, IdlersB, LayOn units.SurfaceChargeDensity // saturations
	Idler, Nip, Lay                                             float64                    // [1] exposures
	BarOne, BarTwo                                              float64                    // [1] shares of the net
	NipExponent, Exponent                                       float64                    // [1] of speed
	Survey                                                      units.Speed
	Cured                                                       float64 // [1] strength of the nip over that of the survey
}

const aSlitter = "unwind_a -2e-5…2e-5: face A leaving the unwind; unwind_b -2e-5…2e-5: face B; " +
	"first -1e-4…1e-4: saturation of two idlers on B; nip_a -1e-4…1e-4: of the nip on A; nip_b -1e-4…1e-4: on B; " +
	"idler_a -1e-4…1e-4: of an idler on A; idlers_b -1e-4…1e-4: of two on B; " +
	"lay_on -1e-4…1e-4: of the lay-on roller on A; " +
	"idler 1e-3…5: exposure of each idler; nip 1e-3…5: of the nip; lay 1e-3…5: of the lay-on roller; " +
	"bar_one 0…0.99: share of the net that the bar before the nip takes onto A; " +
	"bar_two 0…0.99: the one behind the idlers; " +
	"nip_exponent -1…2: of the nip with speed; exponent -1…2: of all other contacts; " +
	"survey 0.1…20: speed at which all this was found; cured 0…2: strength of the nip over that of the survey"

// description has the contacts in the order of the changes that found gives them.
func (s *slitter) description() *line.Description {
	const uC = units.MicrocoulombPerSquareMetre
	d := &line.Description{Schema: line.Schema, Name: "slitter",
		Web: line.Web{Material: "film", Thickness: 20 * units.Micrometre, Width: 1.25 * units.Metre,
			Density: units.Density(905), RelativePermittivity: known.Band{Value: 2.2},
			VolumeResistivity: units.VolumeResistivity(1e19), Humidity: humidity.Inert},
		Speed: s.Survey, Limit: line.Limit{Kind: line.ClingLimit},
		Air: line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 12 * units.PercentRH, Pressure: units.Atmosphere}}
	at := units.Length(0)
	put := func(name string, kind line.StationKind, exponent, exposure float64, faces ...line.Face) {
		x := line.StationSpec{Name: name, Kind: kind, At: at}
		for _, f := range faces {
			x.Change = append(x.Change, line.ChangeSpec{Face: f, Spread: uC, Exposure: units.Ratio(exposure),
				Speed: known.Band{Value: exponent}})
		}
		switch kind {
		case line.Roller, line.Nip:
			x.Roller = &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: line.BareMetal}
		case line.Ioniser:
			x.Change, x.Gap = nil, 300*units.Millimetre
			x.Ioniser = &line.IonSpec{Face: line.FaceA, Distance: 25 * units.Millimetre, Zone: 50 * units.Millimetre,
				Supply: 1e6 * units.MicroamperePerMetre}
		}
		d.Stations = append(d.Stations, x)
		at += units.Metre
	}
	put("unwind", line.Unwind, s.Exponent, 0, line.FaceA, line.FaceB)
	put("idler 1", line.Roller, s.Exponent, s.Idler, line.FaceB)
	put("idler 2", line.Roller, s.Exponent, s.Idler, line.FaceB)
	put("bar 1", line.Ioniser, 0, 0)
	put("nip", line.Nip, s.NipExponent, s.Nip, line.FaceA, line.FaceB)
	put("idler 4", line.Roller, s.Exponent, s.Idler, line.FaceA)
	put("idler 5", line.Roller, s.Exponent, s.Idler, line.FaceB)
	put("idler 6", line.Roller, s.Exponent, s.Idler, line.FaceB)
	put("bar 2", line.Ioniser, 0, 0)
	put("lay-on", line.Roller, s.Exponent, s.Lay, line.FaceA)
	put("winder", line.Winder, 0, 0)
	return d
}

// found is what a survey of the line finds: each contact goes its share of the way to
// saturation.
func (s *slitter) found() found {
	f := found{speed: float64(s.Survey), low: float64(s.Survey), high: float64(s.Survey), exposed: true}
	a, b := float64(s.UnwindA), float64(s.UnwindB)
	add := func(face *float64, change float64) {
		*face += change
		f.changes = append(f.changes, same(change))
	}
	pass := func(face *float64, to units.SurfaceChargeDensity, n float64) {
		add(face, -math.Expm1(-n)*(float64(to)-*face))
	}
	f.changes = append(f.changes, same(a), same(b))
	pass(&b, s.First, s.Idler)
	pass(&b, s.First, s.Idler)
	add(&a, -s.BarOne*(a+b))
	pass(&a, s.NipA, s.Nip)
	pass(&b, s.NipB, s.Nip)
	pass(&a, s.IdlerA, s.Idler)
	pass(&b, s.IdlersB, s.Idler)
	pass(&b, s.IdlersB, s.Idler)
	add(&a, -s.BarTwo*(a+b))
	pass(&a, s.LayOn, s.Lay)
	return f
}

// faces are those of the middle line behind the stations named.
type faces struct{ A3, B3, A4, B4, A5, B5, A6, B6, A7, B7 units.SurfaceChargeDensity }

func (s *slitter) at(v units.Speed, off ...string) (faces, error) {
	m, err := build(s.description(), s.found(), nil)
	if err != nil {
		return faces{}, err
	}
	changes := []Change{Run{v}}
	for _, f := range []line.Face{line.FaceA, line.FaceB} {
		changes = append(changes, Cover{Station: "nip", Face: f, Strength: known.Band{Value: max(s.Cured, 1e-9)}})
	}
	for _, o := range off {
		changes = append(changes, Switch{Station: o})
	}
	if m, err = m.Try(changes...); err != nil {
		return faces{}, err
	}
	w := m.run(float64(v))
	x := func(name string) (a, b units.SurfaceChargeDensity) {
		k := m.station(name)
		return units.SurfaceChargeDensity(w.a[k][Draws]), units.SurfaceChargeDensity(w.b[k][Draws])
	}
	var out faces
	out.A3, out.B3 = x("bar 1")
	out.A4, out.B4 = x("nip")
	out.A5, out.B5 = x("idler 6")
	out.A6, out.B6 = x("bar 2")
	out.A7, out.B7 = x("lay-on")
	return out, nil
}

const facesOut = "-> a3: face A behind the bar before the nip; b3: face B; a4: behind the nip; b4: face B; " +
	"a5: behind the three idlers; b5: face B; a6: behind the second bar; b6: face B; a7: behind the lay-on roller; " +
	"b7: face B"

// Computations lists the public computations of the package for the scoreboard and
// the notebook wrapper: a slitter stands for any line, by its middle.
func Computations() []compute.Entry {
	own := known.Source{Provenance: known.Computed, Cite: "the walk along the path: laws of package charge, station by " +
		"station; ionisers by the share that they were found to take"}
	return compute.List("cure", sentences, []compute.Entry{
		compute.Of42("Try", func(s slitter, v units.Speed, one, two bool) (faces, error) {
			var off []string
			if !one {
				off = append(off, "bar 1")
			}
			if !two {
				off = append(off, "bar 2")
			}
			return s.at(v, off...)
		}, own, "= A slitter at another speed, with a cured nip and bars on or off: the faces of its middle line.",
			aSlitter, "speed 0.1…20: of the line; one: whether the first bar is on; two: whether the second is",
			"! not-an-approval", facesOut),
		compute.Of("Route.Predict", predicted, own,
			"= What a charged body still carries when the next one comes, by the humidity of the air it was conditioned in.",
			"start -1e-4…1e-4: charge density that it gets; test_humidity 0.05…0.9: of a decay test; "+
				"test_time 1e-3…1e4: its time constant; decades 0…0.3: by which the time constant falls per %RH; "+
				"rate 1e-2…100: of bodies; humidity 0.05…0.95: of the air where it is read; "+
				"temperature 250…320: there; body_temperature 250…320: of the body, in the same water",
			"! not-an-approval", "-> left: charge density left; body_humidity: relative humidity at the body's own temperature"),
		compute.Of("Route.Scatter", scattered, own,
			"= Standard deviation of the mass of a dose by its charge, between two states of a plant, and the share outside.",
			"tolerance 1e-6…1: of a dose; now 1e-6…1: standard deviation in the present state; "+
				"now_charge -1e-4…1e-4: of the mass then; good 1e-6…1: in a good state, less; good_charge -1e-4…1e-4: then, less; "+
				"charge -1e-4…1e-4: asked for; power 1…2: of the charge",
			"-> sd: standard deviation; outside: share of doses outside their tolerance"),
		compute.Of64("Nearer", served, own,
			"= What a nozzle brings to doses that are filled: bounded by recombination on the way.",
			"distance 1e-3…5: from the mouth; air 1…50: speed at the body; half_radius 1e-3…0.5: of the stream there; "+
				"alpha 5e-13…5e-12: recombination; charge 1e-9…1e-5: of a dose; dwell 1e-2…100: in the stream",
			"-> brought: current at most; needed: current that the charge asks for; share: of the charge that is taken"),
		compute.Of51("SpanFactor", SpanFactor, own,
			"first 0…1: radius of the roller at the begin of the span, 0 for none; second 0…1: of the one at its end; "+
				"span 0.05…10: between their tangent points; x 0…10: past the first; distance 1e-3…1: from face to web",
			"-> factor: share of the far-away field"),
		compute.Of52("BestSpot", BestSpotContext, own,
			"first 0…1: radius of the roller at the begin of the span, 0 for none; second 0…1: of the one at its end; "+
				"span 0.05…10: between their tangent points; distance 1e-3…1: from bar to web",
			"-> at: best place past the first roller; from: begin of the flat range; to: its end; factor: at the best place"),
	})
}

// predicted is the middle of a way of sheets: a pick and a board on an earthed edge.
func predicted(start units.SurfaceChargeDensity, testHumidity units.RelativeHumidity, testTime units.Time,
	decades float64, rate units.Frequency, h units.RelativeHumidity, t, body units.Temperature) (
	left units.SurfaceChargeDensity, bodyHumidity units.RelativeHumidity, err error) {
	g := &Goods{Schema: GoodsSchema, Name: "sheets", Kind: SheetBody, Rate: rate, Limit: 1,
		Airs: []NamedAir{{Name: "read", Temperature: t, RelativeHumidity: h},
			{Name: "body", Temperature: body, From: "read"}},
		Leak: &LeakLaw{Class: humidity.Absorbing, At: testHumidity, Time: testTime, Decades: decades},
		Stations: []Stop{{Name: "pile", Kind: PileStop},
			{Name: "pick", Kind: PickStop, Change: known.Band{Value: float64(start)}},
			{Name: "board", Kind: BoardStop, Air: "body", Path: decay.EarthedEdge}, {Name: "stack", Kind: StackStop}}}
	r, err := NewRoute(g, nil)
	if err != nil {
		return 0, 0, err
	}
	return units.SurfaceChargeDensity(r.walk(Draws, rate, 0)[2]), r.airs["body"].RelativeHumidity(), nil
}

// scattered is the scatter between two states.
func scattered(tolerance, now units.Mass, nowCharge units.ChargePerMass, good units.Mass,
	goodCharge, q units.ChargePerMass, power float64) (sd units.Mass, outside float64, err error) {
	if err := known.InRange("power", power, 1, 2); err != nil {
		return 0, 0, err
	}
	g := &Goods{Schema: GoodsSchema, Name: "doses", Kind: DoseBody, Rate: units.Hertz, Mass: units.Kilogram,
		Scatter:  &MassScatter{tolerance, now, nowCharge, good, goodCharge},
		Stations: []Stop{{Name: "hopper", Kind: HopperStop}, {Name: "container", Kind: ContainerStop}}}
	r, err := NewRoute(g, nil)
	if err != nil {
		return 0, 0, err
	}
	return r.Scatter(q, power), r.Outside(q, power), known.Finite("charge", q)
}

// served is what a nozzle takes off a dose of a charge.
func served(distance units.Length, air units.Speed, halfRadius units.Length, alpha units.RecombinationCoefficient,
	q units.Charge, dwell units.Time) (brought, needed units.Current, share float64, err error) {
	g := &Goods{Schema: GoodsSchema, Name: "parts", Kind: PartBody, Rate: units.Hertz, Limit: 1, Stations: []Stop{
		{Name: "mould", Kind: MouldStop, Change: known.Band{Value: float64(q)}},
		{Name: "nozzle", Kind: IoniserStop, Dwell: dwell,
			Nozzle: &IonStream{Distance: distance, Air: air, HalfRadius: halfRadius}}, {Name: "bin", Kind: BinStop}}}
	if err := known.InRange("alpha", alpha, 1e-14, 1e-10); err != nil {
		return 0, 0, 0, err
	}
	r, err := NewRoute(g, nil)
	if err != nil {
		return 0, 0, 0, err
	}
	r.alpha = same(float64(alpha))
	needed, _ = r.ions("nozzle", g.Stations[1].Nozzle)
	brought = units.Current(r.bound(g.Stations[1].Nozzle, Draws))
	return brought, needed, 1 - r.walk(Draws, units.Hertz, 0)[2]/float64(q), nil
}
