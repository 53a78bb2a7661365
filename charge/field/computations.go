package field

import (
	"math"
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// Sources of the laws of the field side.
var (
	electrostatics = known.Source{Provenance: known.Published, Cite: "textbook electrostatics (Gauss's law, images), for example W. R. Smythe, Static and Dynamic Electricity, 3rd ed., 1968", Note: "derived in the doc comment"}
	definition     = known.Source{Provenance: known.Published, Cite: "definition or exact relation of the SI", Note: "exact"}
)

// Arguments that occur in many entries.
var (
	argDistance = compute.Arg{Name: "distance", Unit: "m", Doc: "meter plane to web", Low: 0, High: 10}
	argBackGap  = compute.Arg{Name: "gap", Unit: "m", Doc: "web to earthed metal behind it; 1e6 for none", Low: 0, High: 1e6}
	argNet      = compute.Arg{Name: "net", Unit: "C/m²", Doc: "net charge density of both faces", Low: -1e-2, High: 1e-2}
	argRadius   = compute.Arg{Name: "radius", Unit: "m", Low: 1e-12, High: 1e6}
	argLength   = compute.Arg{Name: "length", Unit: "m", Low: 1e-9, High: 1e6}
	argThick    = compute.Arg{Name: "thickness", Unit: "m", Doc: "of the film", Low: 1e-9, High: 1}
	argEpsR     = compute.Arg{Name: "relative_permittivity", Unit: "1", Low: 1, High: 1e4}
	argNear     = compute.Arg{Name: "near", Unit: "C/m²", Doc: "charge density of the face that looks at the meter", Low: -1e-2, High: 1e-2}
	argFar      = compute.Arg{Name: "far", Unit: "C/m²", Doc: "charge density of the other face", Low: -1e-2, High: 1e-2}
	argCharge   = compute.Arg{Name: "charge", Unit: "C", Low: -1, High: 1}
	argFacing   = compute.Arg{Name: "facing", Unit: "1", Low: 0, High: 1, Choices: []string{"free space", "wide earth"}}
	resFactor   = compute.Arg{Name: "factor", Unit: "1", Doc: "E·ε0/σ", Low: -math.MaxFloat64, High: math.MaxFloat64}
)

func fieldArg(name, unit, doc string, low, high float64) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Doc: doc, Low: low, High: high}
}

func result(name, unit string) compute.Arg {
	return compute.Arg{Name: name, Unit: unit, Low: -math.MaxFloat64, High: math.MaxFloat64}
}

// scalar builds an entry with one result that cannot fail.
func scalar(name, doc string, args []compute.Arg, res compute.Arg, src known.Source, covers []string, f func(a []float64) float64) compute.Entry {
	return compute.Entry{Name: name, Doc: doc, Args: args, Results: []compute.Arg{res}, Covers: covers, Source: src,
		Eval: func(r, a []float64) error { r[0] = f(a); return nil }}
}

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	return slices.Concat(fieldGeometryComputations(), fieldMeterComputations(), fieldBodyComputations())
}

func fieldGeometryComputations() []compute.Entry {
	m := func(x float64) units.Length { return units.Length(x) }
	return []compute.Entry{
		scalar("charge.GapBehindRoller", "gap between a web and the roller it left, √(R²+x²) − R",
			[]compute.Arg{argRadius, fieldArg("x", "m", "distance past the line of leaving", -1e3, 1e3)}, result("gap", "m"), electrostatics,
			[]string{"GapBehindRoller"}, func(a []float64) float64 { return float64(GapBehindRoller(m(a[0]), m(a[1]))) }),
		scalar("charge.FieldFactor", "field of a wide web at an earthed meter plane over σ/ε0, h/(d+h)",
			[]compute.Arg{argDistance, argBackGap}, resFactor, electrostatics,
			[]string{"FieldFactor", "DistanceSensitivity"}, func(a []float64) float64 { return FieldFactor(m(a[0]), m(a[1])) }),
		scalar("charge.RollerFieldFactor", "field of a web behind a roller over that of the far web, two-dimensional, in bipolar coordinates",
			[]compute.Arg{argRadius, fieldArg("x", "m", "distance past the line of leaving", 0, 1e3), fieldArg("distance", "m", "meter plane to web", 1e-6, 10)}, resFactor, electrostatics,
			[]string{"RollerFieldFactor"}, func(a []float64) float64 { return RollerFieldFactor(m(a[0]), m(a[1]), m(a[2])) }),
		scalar("charge.StripFactor", "field before the middle of a strip between two planes over σ/ε0",
			[]compute.Arg{fieldArg("width", "m", "full width", 0, 1e6), argDistance, argBackGap}, resFactor, electrostatics,
			[]string{"StripFactor"}, func(a []float64) float64 { return StripFactor(m(a[0]), m(a[1]), m(a[2])) }),
		scalar("charge.EdgeFactor", "field near the edge of a wide sheet between two planes over σ/ε0",
			[]compute.Arg{fieldArg("y", "m", "distance inside the edge", -1e3, 1e3), argDistance, argBackGap}, resFactor, electrostatics,
			[]string{"EdgeFactor"}, func(a []float64) float64 { return EdgeFactor(m(a[0]), m(a[1]), m(a[2])) }),
		{Name: "charge.ProfileField", Doc: "field before a web of two lanes with a common edge at 0, sum of strips between two planes",
			Args: []compute.Arg{fieldArg("x", "m", "place of the meter across the web", -1e3, 1e3), fieldArg("left_width", "m", "", 1e-6, 1e3), fieldArg("right_width", "m", "", 1e-6, 1e3),
				fieldArg("left", "C/m²", "density of the left lane", -1e-2, 1e-2), fieldArg("right", "C/m²", "density of the right lane", -1e-2, 1e-2), argDistance, argBackGap},
			Results: []compute.Arg{result("field", "V/m")}, Covers: []string{"ProfileField"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				f, err := ProfileField(m(a[0]), []units.Length{m(-a[1]), 0, m(a[2])}, []units.SurfaceChargeDensity{units.SurfaceChargeDensity(a[3]), units.SurfaceChargeDensity(a[4])}, m(a[5]), m(a[6]))
				r[0] = float64(f)
				return err
			}},
		scalar("charge.DiscFactor", "field before the middle of a charged disc between two planes over σ/ε0",
			[]compute.Arg{fieldArg("radius", "m", "of the disc", 0, 1e6), argDistance, argBackGap}, resFactor, electrostatics,
			[]string{"DiscFactor"}, func(a []float64) float64 { return DiscFactor(m(a[0]), m(a[1]), m(a[2])) }),
		scalar("charge.BareFaceFactor", "field at the middle of a bare meter face over σ/ε0, before a charged disc over an earthed plane",
			[]compute.Arg{fieldArg("face", "m", "radius of the face", 1e-6, 1e3), fieldArg("sheet", "m", "radius of the charged sheet", 1e-6, 1e6), fieldArg("distance", "m", "face to sheet", 1e-6, 10), fieldArg("gap", "m", "sheet to earthed plane", 1e-6, 1e3)}, resFactor,
			known.Source{Provenance: known.Published, Cite: "E. R. Love, The electrostatic field of two equal circular co-axial conducting disks, Quart. J. Mech. Appl. Math. 2 (1949) 428", Note: "equation from memory; derived and checked independently"},
			[]string{"BareFaceFactor"}, func(a []float64) float64 { return BareFaceFactor(m(a[0]), m(a[1]), m(a[2]), m(a[3])) }),
		scalar("charge.PatchShare", "standard deviation of the field of patchy charge at the meter over σ_rms/ε0",
			[]compute.Arg{fieldArg("correlation", "m", "length at which the correlation is 1/e", 1e-6, 1e3), fieldArg("distance", "m", "meter plane to web", 1e-6, 10), argBackGap}, resFactor, electrostatics,
			[]string{"PatchShare"}, func(a []float64) float64 { return PatchShare(m(a[0]), m(a[1]), m(a[2])) }),
		scalar("charge.PatchShareMoving", "the same for a moving web and a meter that averages over a length along it",
			[]compute.Arg{fieldArg("correlation", "m", "length at which the correlation is 1/e", 1e-6, 1e3), fieldArg("distance", "m", "meter plane to web", 1e-6, 10), argBackGap, fieldArg("smear", "m", "web speed times response time", 0, 1e3)}, resFactor, electrostatics,
			[]string{"PatchShareMoving"}, func(a []float64) float64 { return PatchShareMoving(m(a[0]), m(a[1]), m(a[2]), m(a[3])) }),
		scalar("charge.PlanePotential", "potential of a wide web between two earthed planes, σ·a·b/(ε0(a+b))",
			[]compute.Arg{argNet, fieldArg("a", "m", "to one plane", 0, 10), fieldArg("b", "m", "to the other; 1e6 for none", 0, 1e6)}, result("potential", "V"), electrostatics,
			[]string{"PlanePotential"}, func(a []float64) float64 {
				return float64(PlanePotential(units.SurfaceChargeDensity(a[0]), m(a[1]), m(a[2])))
			}),
		scalar("charge.SheetField", "field at a wide earthed meter plane before a wide web, (σ/ε0)·h/(d+h)",
			[]compute.Arg{argNet, argDistance, argBackGap}, result("field", "V/m"), electrostatics,
			[]string{"SheetField"}, func(a []float64) float64 {
				return float64(SheetField(units.SurfaceChargeDensity(a[0]), m(a[1]), m(a[2])))
			}),
		{Name: "charge.Film.Between", Doc: "field of a film with charge on both faces between two earthed planes",
			Args:    []compute.Arg{argThick, argEpsR, argNear, argFar, argDistance, fieldArg("gap", "m", "far face to earthed metal; 0 on a roller", 0, 1e6)},
			Results: []compute.Arg{result("field", "V/m"), result("behind", "V/m"), result("near_potential", "V"), result("far_potential", "V")},
			Covers:  []string{"Film.Between", "Film.Check"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				f := Film{m(a[0]), a[1]}
				if err := f.Check(); err != nil {
					return err
				}
				b := f.Between(units.SurfaceChargeDensity(a[2]), units.SurfaceChargeDensity(a[3]), m(a[4]), m(a[5]))
				r[0], r[1], r[2], r[3] = float64(b.AtMeter), float64(b.Behind), float64(b.NearFace), float64(b.FarFace)
				return nil
			}},
		{Name: "charge.FilmOnRoller", Doc: "film on an earthed roller: voltage σt/(ε0εr), field factor (t/εr)/(d+t/εr), capacitance per area ε0εr/t",
			Args:    []compute.Arg{argThick, argEpsR, argNear, argDistance},
			Results: []compute.Arg{result("voltage", "V"), result("factor", "1"), result("capacitance_per_area", "F/m²"), result("charge_back", "C/m²")},
			Covers:  []string{"Film.SurfaceVoltage", "Film.OuterCharge", "Film.OverRollerFactor", "Film.CapacitancePerArea"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				f := Film{m(a[0]), a[1]}
				v := f.SurfaceVoltage(units.SurfaceChargeDensity(a[2]))
				r[0], r[1], r[2], r[3] = float64(v), f.OverRollerFactor(m(a[3])), f.CapacitancePerArea(), float64(f.OuterCharge(v))
				return nil
			}},
		scalar("charge.ElectrostaticPressure", "pull per area to one earthed plane, σ²/(2ε0)",
			[]compute.Arg{argNet}, result("pressure", "Pa"), electrostatics, []string{"ElectrostaticPressure"},
			func(a []float64) float64 { return float64(ElectrostaticPressure(units.SurfaceChargeDensity(a[0]))) }),
		{Name: "charge.ClingLimit", Doc: "charge density at which the pull to one plane equals the weight, √(2ε0·m″·g), and the ratio of pull to weight at the given one",
			Args:    []compute.Arg{fieldArg("mass_per_area", "kg/m²", "of the sheet", 1e-6, 100), argNet},
			Results: []compute.Arg{result("limit", "C/m²"), result("ratio", "1")},
			Covers:  []string{"ClingLimit", "ClingRatio"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				w := units.BasisWeight(a[0])
				r[0], r[1] = float64(ClingLimit(w)), ClingRatio(units.SurfaceChargeDensity(a[1]), w)
				return nil
			}},
		{Name: "charge.Image", Doc: "point charge over an earthed plane: attraction q²/(16πε0h²) and induced density −qh/(2π(r²+h²)^(3/2))",
			Args:    []compute.Arg{argCharge, fieldArg("height", "m", "over the plane", 1e-9, 1e3), fieldArg("r", "m", "from the foot", 0, 1e3)},
			Results: []compute.Arg{result("force", "N"), result("density", "C/m²")},
			Covers:  []string{"ImageForce", "ImageDensity"}, Source: electrostatics,
			Eval: func(r, a []float64) error {
				q := units.Charge(a[0])
				r[0], r[1] = float64(ImageForce(q, m(a[1]))), float64(ImageDensity(q, m(a[1]), m(a[2])))
				return nil
			}},
		{Name: "charge.WebCurrent", Doc: "current per width of a moving web, σ·v, of the roller it left, −Δσ·v·w, and the margin of a neutraliser",
			Args:    []compute.Arg{argNet, fieldArg("speed", "m/s", "of the web", 0, 1e3), fieldArg("width", "m", "of the web", 0, 1e3), fieldArg("available", "A/m", "what the neutraliser gives", 0, 1)},
			Results: []compute.Arg{result("line_current", "A/m"), result("roller_current", "A"), result("margin", "1")},
			Covers:  []string{"WebCurrent", "RollerCurrent", "CurrentMargin"}, Source: definition,
			Eval: func(r, a []float64) error {
				s, v := units.SurfaceChargeDensity(a[0]), units.Speed(a[1])
				i := WebCurrent(s, v)
				r[0], r[1], r[2] = float64(i), float64(RollerCurrent(s, v, m(a[2]))), CurrentMargin(units.LineCurrent(a[3]), i)
				return nil
			}},
	}
}
