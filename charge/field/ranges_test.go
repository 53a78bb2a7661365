package field

import (
	"math"
	"testing"

	"example.org/pithball/internal/rangecheck"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// TestRanges: the ranges that the comments of specs state, both ends taken and what
// lies beyond refused by name.
func TestRanges(t *testing.T) {
	check := func(of, name string, try func(v float64) error, in, out []float64) {
		for _, fault := range rangecheck.Faults(of, name, try, in, out) {
			t.Error(fault)
		}
	}
	positive, notPositive := []float64{1e-3, 0.5}, []float64{0, -0.5}
	notNegative, negative := []float64{0, 0.5}, []float64{-0.5}
	finite := []float64{-0.5, 0, 0.5}
	epsr, noEpsr := []float64{1, 1e4}, []float64{0.99, 1.01e4}

	meter := func(guarded bool, set func(s *FieldMeterSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := FieldMeterSpec{Nominal: 0.025, FaceRadius: 0.035, SheetRadius: 0.5, FullScale: 2e4, Guarded: guarded}
			set(&s, v)
			_, err := NewFieldMeter(s)
			return err
		}
	}
	check("NewFieldMeter", "field_meter.nominal", meter(true, func(s *FieldMeterSpec, v float64) {
		s.Nominal = units.Length(v)
	}), []float64{1e-3, 1}, []float64{0.99e-3, 1.01})
	check("NewFieldMeter", "field_meter.full_scale", meter(true, func(s *FieldMeterSpec, v float64) {
		s.FullScale = units.DisplayVoltage(v)
	}), positive, notPositive)
	check("NewFieldMeter", "field_meter.gain", meter(true, func(s *FieldMeterSpec, v float64) {
		s.Gain = known.Band{Value: v, Spread: 1e-9, Kind: known.Normal}
	}), positive, notPositive)
	check("NewFieldMeter", "field_meter.offset", meter(true, func(s *FieldMeterSpec, v float64) { s.Offset.Value = v }),
		finite, nil)
	check("NewFieldMeter, bare", "field_meter.face_radius", meter(false, func(s *FieldMeterSpec, v float64) {
		s.FaceRadius = units.Length(v)
	}), positive, notPositive)
	check("NewFieldMeter, bare", "field_meter.sheet_radius", meter(false, func(s *FieldMeterSpec, v float64) {
		s.SheetRadius = units.Length(v)
	}), positive, notPositive)
	check("NewFieldMeter, guarded", "field_meter.face_radius", meter(true, func(s *FieldMeterSpec, v float64) {
		s.FaceRadius = units.Length(v)
	}), notNegative, negative)

	volts := func(set func(s *VoltmeterSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := VoltmeterSpec{FullScale: 1000, Floor: 1e-6}
			set(&s, v)
			_, err := NewVoltmeter(s)
			return err
		}
	}
	check("NewVoltmeter", "voltmeter.floor", volts(func(s *VoltmeterSpec, v float64) { s.Floor = units.Voltage(v) }),
		[]float64{0.5, 999}, []float64{0, 1000})
	check("NewVoltmeter", "voltmeter.gain", volts(func(s *VoltmeterSpec, v float64) {
		s.Gain = known.Band{Value: v, Spread: 1e-9, Kind: known.Normal}
	}), positive, notPositive)
	check("NewVoltmeter", "voltmeter.offset", volts(func(s *VoltmeterSpec, v float64) { s.Offset.Value = v }), finite, nil)
	if _, err := NewVoltmeter(VoltmeterSpec{FullScale: 0.5, Floor: 0.1}); err != nil {
		t.Error("a full scale of 0.5 V:", err)
	}

	film := func(set func(f *Film, v float64)) func(v float64) error {
		return func(v float64) error {
			f := Film{Thickness: 1e-5, RelativePermittivity: 3}
			set(&f, v)
			return f.Check()
		}
	}
	check("Film", "film.thickness", film(func(f *Film, v float64) { f.Thickness = units.Length(v) }), positive,
		notPositive)
	check("Film", "film.relative_permittivity", film(func(f *Film, v float64) { f.RelativePermittivity = v }), epsr,
		noEpsr)

	pile := func(set func(s *ChargedPileSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := ChargedPileSpec{Thickness: 1e-4, RelativePermittivity: 3, Width: 1}
			set(&s, v)
			_, err := NewChargedPile(s)
			return err
		}
	}
	check("NewChargedPile", "pile.thickness", pile(func(s *ChargedPileSpec, v float64) { s.Thickness = units.Length(v) }),
		positive, notPositive)
	check("NewChargedPile", "pile.relative_permittivity", pile(func(s *ChargedPileSpec, v float64) {
		s.RelativePermittivity = v
	}), epsr, noEpsr)
	check("NewChargedPile", "pile.upper", pile(func(s *ChargedPileSpec, v float64) {
		s.Upper = units.SurfaceChargeDensity(v)
	}), finite, nil)
	check("NewChargedPile", "pile.lower", pile(func(s *ChargedPileSpec, v float64) {
		s.Lower = units.SurfaceChargeDensity(v)
	}), finite, nil)
	check("NewChargedPile", "pile.air_gap", pile(func(s *ChargedPileSpec, v float64) { s.AirGap = units.Length(v) }),
		notNegative, negative)
	check("NewChargedPile", "pile.width", pile(func(s *ChargedPileSpec, v float64) { s.Width = units.Length(v) }),
		positive,
		notPositive)
	check("NewChargedPile", "pile.air_strength", pile(func(s *ChargedPileSpec, v float64) {
		s.AirStrength = units.ElectricField(v)
	}), notNegative, negative)
	check("NewChargedPile", "pile.sheet_strength", pile(func(s *ChargedPileSpec, v float64) {
		s.SheetStrength = units.ElectricField(v)
	}), notNegative, negative)

	roll := func(set func(s *RollSpec, v float64)) func(v float64) error {
		return func(v float64) error {
			s := RollSpec{CoreRadius: 0.1, Thickness: 2e-5, RelativePermittivity: 3, Surroundings: 1}
			set(&s, v)
			_, err := NewRoll(s)
			return err
		}
	}
	check("NewRoll", "roll.core_radius", roll(func(s *RollSpec, v float64) { s.CoreRadius = units.Length(v) }), positive,
		notPositive)
	check("NewRoll", "roll.thickness", roll(func(s *RollSpec, v float64) { s.Thickness = units.Length(v) }), positive,
		notPositive)
	check("NewRoll", "roll.relative_permittivity", roll(func(s *RollSpec, v float64) { s.RelativePermittivity = v }), epsr,
		noEpsr)
	check("NewRoll", "roll.outer", roll(func(s *RollSpec, v float64) { s.Outer = units.SurfaceChargeDensity(v) }), finite,
		nil)
	check("NewRoll", "roll.inner", roll(func(s *RollSpec, v float64) { s.Inner = units.SurfaceChargeDensity(v) }), finite,
		nil)
	check("NewRoll", "roll.surroundings", roll(func(s *RollSpec, v float64) { s.Surroundings = units.Length(v) }),
		[]float64{0.11, 2}, []float64{0.1, 0.09, 0})
	check("NewRoll", "roll.air_strength", roll(func(s *RollSpec, v float64) { s.AirStrength = units.ElectricField(v) }),
		notNegative, negative)
	check("NewRoll", "roll.film_strength", roll(func(s *RollSpec, v float64) { s.FilmStrength = units.ElectricField(v) }),
		notNegative, negative)

	repeats := func(set func(x *[5]float64, v float64)) func(v float64) error {
		return func(v float64) error {
			x := [5]float64{3, 2, 0.3, 0.05, 0.8}
			set(&x, v)
			_, err := Repeats(units.DisplayVoltage(x[0]), units.DisplayVoltage(x[1]), x[2], x[3], x[4])
			return err
		}
	}
	check("Repeats", "a", repeats(func(x *[5]float64, v float64) { x[0] = v }), finite, nil)
	check("Repeats", "b", repeats(func(x *[5]float64, v float64) { x[1] = v }), finite, []float64{3})
	check("Repeats", "cv", repeats(func(x *[5]float64, v float64) { x[2] = v }), positive, notPositive)
	check("Repeats", "alpha", repeats(func(x *[5]float64, v float64) { x[3] = v }), []float64{0.01, 0.99}, []float64{0, 1})
	check("Repeats", "power", repeats(func(x *[5]float64, v float64) { x[4] = v }), []float64{0.01, 0.99}, []float64{0, 1})

	faces := func(set func(o *FaceObservation, v float64)) func(v float64) error {
		return func(v float64) error {
			o := FaceObservation{WeightA: 1, WeightB: 1, SD: 1}
			set(&o, v)
			_, err := SeparateFaces(o)
			return err
		}
	}
	check("SeparateFaces", "observation[0].value", faces(func(o *FaceObservation, v float64) {
		o.Value = units.SurfaceChargeDensity(v)
	}), finite, nil)
	check("SeparateFaces", "observation[0].sd", faces(func(o *FaceObservation, v float64) {
		o.SD = units.SurfaceChargeDensity(v)
	}), positive, notPositive)
	check("SeparateFaces", "observation[0].weight_a", faces(func(o *FaceObservation, v float64) {
		o.WeightA, o.WeightB = v, v/2
	}), []float64{-0.5, 0.5}, []float64{0})
}

// TestNoNumber: what is outside has no field, what lies at an end has one.
func TestNoNumber(t *testing.T) {
	inf, nan := units.Length(math.Inf(1)), math.NaN()
	film := Film{Thickness: 32e-6, RelativePermittivity: 3.2}
	const eps0 = 8.8541878128e-12
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"gap behind a wire", float64(GapBehindRoller(0, 3)), 3}, {"at its line", float64(GapBehindRoller(0, 0)), 0},
		{"at the line of a roller", float64(GapBehindRoller(5, 0)), 0}, {"5-12-13", float64(GapBehindRoller(5, 12)), 8},
		{"before", float64(GapBehindRoller(5, -12)), 8}, {"no radius", float64(GapBehindRoller(-1, 1)), nan},
		{"factor", FieldFactor(1, 3), 0.75}, {"touching", FieldFactor(0, 0.5), 1}, {"on metal", FieldFactor(1, 0), 0},
		{"no metal", FieldFactor(0.5, inf), 1}, {"touching both", FieldFactor(0, 0), nan},
		{"negative", FieldFactor(-1, 1), nan},
		{"negative gap", FieldFactor(1, -1), nan}, {"endless", FieldFactor(inf, 1), 0}, {"both", FieldFactor(inf, inf), nan},
		{"sensitivity", DistanceSensitivity(1, 3), -0.25},
		{"strip of no width", StripFactor(0, 1, 1), 0}, {"on metal", StripFactor(1, 1, 0), 0},
		{"wide", StripFactor(inf, 1, 3), 0.75}, {"45°", StripFactor(2, 1, inf), 0.5},
		{"negative", StripFactor(-1, 1, 1), nan},
		{"negative", StripFactor(1, -1, 1), nan}, {"negative", StripFactor(1, 1, -1), nan},
		{"endless", StripFactor(1, inf, 1), nan},
		// D = 2, d = 1: cot 45° = 1, so (2/π)·atan(tanh(π/8)).
		{"strip", StripFactor(1, 1, 1), 2 / math.Pi * math.Atan(math.Tanh(math.Pi/8))},
		{"edge, on metal", EdgeFactor(1, 1, 0), 0}, {"edge itself", EdgeFactor(0, 3, 1), 0.125},
		{"edge, 1 m of gap", EdgeFactor(1, 1, 1), 0.25 + math.Atan(math.Tanh(math.Pi/4))/math.Pi},
		{"edge, negative", EdgeFactor(1, -1, 1), nan}, {"edge, negative gap", EdgeFactor(1, 1, -1), nan},
		{"edge, endless", EdgeFactor(1, inf, 1), nan}, {"edge, nowhere", EdgeFactor(units.Length(nan), 1, 1), nan},
		{"disc 3-4-5", DiscFactor(3, 4, inf), 0.2}, {"disc, none", DiscFactor(0, 1, 1), 0},
		{"disc, on metal", DiscFactor(1, 1, 0), 0},
		{"disc, wide", DiscFactor(inf, 1, 3), 0.75}, {"disc, negative", DiscFactor(-1, 1, 1), nan},
		{"disc, negative", DiscFactor(1, -1, 1), nan}, {"disc, negative", DiscFactor(1, 1, -1), nan},
		{"disc, endless", DiscFactor(1, inf, 1), nan},
		{"roller, far", RollerFieldFactor(1, inf, 1), 1}, {"roller, none", RollerFieldFactor(0, 1, 1), nan},
		{"roller, no distance", RollerFieldFactor(1, 1, 0), nan}, {"roller, before", RollerFieldFactor(1, -1, 1), nan},
		{"roller, endless", RollerFieldFactor(inf, 1, 1), nan}, {"roller, endless", RollerFieldFactor(1, 1, inf), nan},
		{"face, none", BareFaceFactor(0, 1, 1, 1), nan}, {"sheet, none", BareFaceFactor(1, 0, 1, 1), nan},
		{"face, touching", BareFaceFactor(1, 1, 0, 1), nan}, {"face, on metal", BareFaceFactor(1, 1, 1, 0), nan},
		{"face, endless", BareFaceFactor(1, 1, 1, inf), nan},
		{"patches, on metal", PatchShare(1, 1, 0), 0}, {"patches, none", PatchShare(0, 1, 1), nan},
		{"patches, touching", PatchShare(1, 0, 1), nan}, {"patches, negative", PatchShare(1, 1, -1), nan},
		{"patches, endless", PatchShare(inf, 1, 1), nan}, {"patches, far", PatchShare(1, inf, 1), nan},
		{"smear", PatchShareMoving(1, 1, 1, -1), nan}, {"smear", PatchShareMoving(1, 1, 1, inf), nan},
		{"bare patches", BarePatchShare(0, 1, 1, 1, 1), nan}, {"bare patches", BarePatchShare(1, 0, 1, 1, 1), nan},
		{"bare patches", BarePatchShare(1, 1, 0, 1, 1), nan}, {"bare patches", BarePatchShare(1, 1, 1, 0, 1), nan},
		{"bare patches", BarePatchShare(1, 1, 1, 1, 0), nan}, {"bare patches", BarePatchShare(inf, 1, 1, 1, 1), nan},
		{"bare patches, wide sheet", BarePatchShare(1, 1, 251, 1, 1), nan},
		{"sphere", float64(SphereField(1, 1, 1, FreeSpace)), 1 / (4 * math.Pi * eps0 * 4)},
		{"sphere before a face", float64(SphereField(1, 1, 1, WideEarth)), 2 / (4 * math.Pi * eps0 * 4)},
		{"point", float64(SphereField(1, 0, 1, FreeSpace)), 1 / (4 * math.Pi * eps0)},
		{"sphere, touching", float64(SphereField(1, 1, 0, FreeSpace)), nan},
		{"sphere, negative", float64(SphereField(1, -1, 1, FreeSpace)), nan},
		// ρ = 2, L = 3: √(9 + 16) = 5.
		{"bottle", float64(CylinderField(1, 1, 3, 1, FreeSpace)), 1 / (2 * math.Pi * eps0 * 10)},
		{"bottle, touching", float64(CylinderField(1, 1, 1, 0, FreeSpace)), nan},
		{"bottle, negative", float64(CylinderField(1, -1, 1, 1, FreeSpace)), nan},
		{"bottle, negative", float64(CylinderField(1, 1, -1, 1, FreeSpace)), nan},
		{"box", float64(BoxField(1, 0, 1, 1, 1, FreeSpace)), nan}, {"box", float64(BoxField(1, 1, 0, 1, 1, FreeSpace)), nan},
		{"box", float64(BoxField(1, 1, 1, 0, 1, FreeSpace)), nan}, {"box", float64(BoxField(1, 1, 1, 1, 0, FreeSpace)), nan},
		{"stream", float64(StreamField(0.5, 4, 2, 0.5, FreeSpace)), 2 / (2 * math.Pi * eps0)},
		{"stream, standing", float64(StreamField(1, 1, 0, 1, FreeSpace)), nan},
		{"stream, touching", float64(StreamField(1, 1, 1, 0, FreeSpace)), nan},
		{"dust", DustPickUp(-4, 2, 3, 0.5), 12}, {"dust, no time", DustPickUp(1, 1, 1, 0), nan},
		{"dust, no field", DustPickUp(1, 0, 1, 1), nan}, {"dust, before", DustPickUp(1, 1, -1, 1), nan},
		{"dust, none", DustPickUp(1, 1, 0, 1), 0},
		{"image", float64(ImageForce(1, 0.5)), 4 / (16 * math.Pi * eps0)}, {"image, on it", float64(ImageForce(1, 0)), nan},
		{"induced 3-4-5", float64(ImageDensity(1, 3, 4)), -3 / (2 * math.Pi * 125)},
		{"induced", float64(ImageDensity(1, 0, 1)), nan},
		{"pull", float64(film.Pull(1, 0, -1)), nan}, {"pull, alone", float64(film.Pull(1, 0.5, inf)), 2.25 / (2 * eps0)},
		// t/ε_r 10 µm, another earth as far: half of the outer charge up, half down.
		{"pull, balanced", float64(film.Pull(1, 0, 10e-6)), 0}, {"pull, inner", float64(film.Pull(1, 1, 10e-6)),
			2 / (2 * eps0)},
		{"two sheets", float64(SheetPull(2, -3)), 3 / eps0},
		{"patched", float64(PatchedPull(1, 0, 1, 1)), nan}, {"patched", float64(PatchedPull(1, 1, 0, 1)), nan},
		{"patched", float64(PatchedPull(1, 1, 1, -1)), nan},
		{"patched, touching", float64(PatchedPull(2, math.Pi, 0.5*math.Ln2, 0)), 0.25 / eps0},
		{"potential", float64(PlanePotential(1, 1, 3)), 0.75 / eps0},
		{"sphere, pF", float64(SphereCapacitance(0.5)), 2 * math.Pi * eps0}, {"sphere", float64(SphereCapacitance(-1)), nan},
		{"disc", float64(DiscCapacitance(0.5)), 4 * eps0}, {"disc", float64(DiscCapacitance(-1)), nan},
		{"rod 3-4-5", float64(RodCapacitance(5, 3)), 2 * math.Pi * eps0 * 5 * 0.8 / math.Atanh(0.8)},
		{"ball", float64(RodCapacitance(1, 1)), 2 * math.Pi * eps0}, {"rod", float64(RodCapacitance(1, 1.1)), nan},
		{"rod", float64(RodCapacitance(1, 0)), nan}, {"rod", float64(RodCapacitance(inf, 1)), nan},
		{"over a plane, far", float64(SphereOverPlaneCapacitance(0.5, inf)), 2 * math.Pi * eps0},
		{"over a plane", float64(SphereOverPlaneCapacitance(0, 1)), nan},
		{"over a plane", float64(SphereOverPlaneCapacitance(1, 0)), nan},
		{"over a plane", float64(SphereOverPlaneCapacitance(inf, 1)), nan},
		{"plates", float64(PlateCapacitance(2, 0.5, 3)), 12 * eps0}, {"plates", float64(PlateCapacitance(1, 0, 1)), nan},
		{"plates", float64(PlateCapacitance(-1, 1, 1)), nan}, {"plates", float64(PlateCapacitance(1, 1, -1)), nan},
		{"wire, cosh 1", float64(CylinderOverPlaneCapacitance(1, 0.5, units.Length(math.Cosh(1)))), math.Pi * eps0},
		{"wire", float64(CylinderOverPlaneCapacitance(0, 1, 1)), nan},
		{"wire", float64(CylinderOverPlaneCapacitance(1, 0, 2)), nan},
		{"wire", float64(CylinderOverPlaneCapacitance(1, 1, 1)), nan},
		{"sleeve", float64(CoaxialCapacitance(1, units.Length(math.E), 0.5, 3)), 3 * math.Pi * eps0},
		{"sleeve", float64(CoaxialCapacitance(0, 1, 1, 1)), nan}, {"sleeve", float64(CoaxialCapacitance(1, 1, 1, 1)), nan},
		{"sleeve", float64(CoaxialCapacitance(1, 2, 0, 1)), nan}, {"sleeve", float64(CoaxialCapacitance(1, 2, 1, -1)), nan},
		{"web, 1 µC/m² in kV/m", 1e-3 * float64(SheetField(1e-6, 1, inf)), 112.94},
		{"roller", float64(RollerCurrent(-2, 3, 0.5)), 3}, {"margin", CurrentMargin(-5, 0.5), 10},
		{"cling, µC/m²", 1e6 * float64(ClingLimit(20e-6*910)), 1.778}, {"cling", float64(ClingLimit(-1)), nan},
		{"pressure", float64(ElectrostaticPressure(2)), 2 / eps0},
		{"half of the limit", ClingRatio(0.5*ClingLimit(0.02), 0.02), 0.25},
	} {
		if math.IsNaN(c.want) != math.IsNaN(c.got) || !math.IsNaN(c.want) && c.got != c.want &&
			!(math.Abs(c.got-c.want) <= 5e-4*math.Abs(c.want)) && !(math.Abs(c.got) <= 1e-3 && c.want == 0) {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
}
