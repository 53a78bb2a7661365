package field

import (
	_ "embed" // for the sentences
	"slices"

	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper.
func Computations() []compute.Entry {
	return compute.List("field", sentences, slices.Concat(geometryComputations(), filmComputations(), meterComputations(),
		readingComputations(), bodyComputations()))
}

// electrostatics is the source of what follows from Gauss's law and images.
var electrostatics = known.Source{Provenance: known.Computed, Cite: "Gauss's law and the method of images",
	Note: "derived in the doc comment"}

// Items that many declarations share.
const (
	aDistance = "distance 0…10: meter plane to web"
	aGap      = "gap 0…1e6: web to earthed metal behind it, 1e6 for none"
	aNear     = "distance 1e-6…10: meter plane to web"
	aNet      = "net -1e-2…1e-2: net charge density of both faces"
	aFilm     = "thickness 1e-9…1: of the film; relative_permittivity 1…1e4: of the film"
	aFaces    = "near -1e-2…1e-2: charge density of the face that looks at the meter; " +
		"far -1e-2…1e-2: charge density of the other face"
	aCharge   = "charge -1…1: of the body"
	aFacing   = "facing {free space|wide earth}: what is before the body"
	aRadius   = "radius 1e-12…1e6: of the body"
	aLength   = "length 1e-9…1e6: of the body"
	aBlur     = "correlation 1e-6…1e3: length at which the correlation is 1/e"
	rFactor   = "-> factor: E·ε0/σ"
	density   = " -1e-2…1e-2: "
	anyLength = " 1e-6…1e3: "
)

// checked is the film, if it is one.
func checked(f Film) (Film, error) { return f, f.Check() }

func geometryComputations() []compute.Entry {
	love := known.Source{Provenance: known.Computed,
		Cite: "Love's integral equation (E. R. Love, The electrostatic field of two equal circular co-axial conducting " +
			"disks, Quart. J. Mech. Appl. Math. 2 (1949) 428, not read)",
		Note: "derived in the doc comment and checked independently"}
	type sigma = units.SurfaceChargeDensity
	return []compute.Entry{
		compute.Of21("GapBehindRoller", GapBehindRoller, electrostatics, aRadius,
			"x -1e3…1e3: distance past the line of leaving -> gap: web to roller"),
		compute.Of21("FieldFactor", FieldFactor, electrostatics, aDistance, aGap, rFactor),
		compute.Of21("DistanceSensitivity", DistanceSensitivity, electrostatics, aNear, aGap,
			"-> sensitivity: −d ln E/d ln distance"),
		compute.Of31("RollerFieldFactor", RollerFieldFactor, electrostatics, aRadius,
			"x 0…1e3: distance past the line of leaving", aNear, rFactor),
		compute.Of31("StripFactor", StripFactor, electrostatics, "width 0…1e6: full width", aDistance, aGap, rFactor),
		compute.Of31("EdgeFactor", EdgeFactor, electrostatics, "y -1e3…1e3: distance inside the edge", aDistance, aGap,
			rFactor),
		compute.Of("ProfileField", func(x, left, right units.Length, l, r sigma, d, h units.Length) (units.ElectricField,
			error) {
			return ProfileField(x, []units.Length{-left, 0, right}, []sigma{l, r}, d, h)
		}, electrostatics, "= Field before a web of two lanes with a common edge at 0, sum of strips between two planes.",
			"x -1e3…1e3: place of the meter across the web; left_width"+anyLength+
				"of the left lane; right_width"+anyLength+"of the right lane",
			"left"+density+"density of the left lane; right"+density+"density of the right lane", aDistance, aGap,
			"-> field: at the meter"),
		compute.Of31("DiscFactor", DiscFactor, electrostatics, "radius 0…1e6: of the disc", aDistance, aGap, rFactor),
		compute.Of41("BareFaceFactor", BareFaceFactor, love,
			"face"+anyLength+"radius of the face; sheet 1e-6…1e6: radius of the charged sheet",
			"distance 1e-6…10: face to sheet; gap"+anyLength+"sheet to earthed plane", rFactor),
		compute.Of31("PatchShare", PatchShare, electrostatics, aBlur, aNear, aGap,
			"-> factor: standard deviation of the field over σ_rms/ε0"),
		compute.Of51("BarePatchShare", BarePatchShare, love, aBlur,
			"face"+anyLength+"radius of the face; sheet 1e-6…1e3: radius of the charged sheet, up to 250 distances",
			"distance 1e-6…10: face to sheet; gap"+anyLength+"sheet to earthed plane",
			"-> factor: standard deviation of the field over σ_rms/ε0"),
		compute.Of41("PatchShareMoving", PatchShareMoving, electrostatics, aBlur, aNear, aGap,
			"smear 0…1e3: web speed times response time",
			"-> factor: standard deviation of the field over σ_rms/ε0"),
		compute.Of31("PlanePotential", PlanePotential, electrostatics, aNet,
			"a 0…10: to one plane; b 0…1e6: to the other, 1e6 for none",
			"-> potential: of the web"),
		compute.Of31("SheetField", SheetField, electrostatics, aNet, aDistance, aGap, "-> field: at the meter plane"),
	}
}

func filmComputations() []compute.Entry {
	definition := known.Source{Provenance: known.Definition, Cite: "current of a moving charge density"}
	type sigma = units.SurfaceChargeDensity
	return []compute.Entry{
		compute.Of("Film.Between", compute.Made(checked, Film.Between), electrostatics, aFilm, aFaces, aDistance,
			"gap 0…1e6: far face to earthed metal, 0 on a roller",
			"-> field: at the meter plane; behind: field at the plane behind; near_potential: of the near face; "+
				"far_potential: of the far face"),
		compute.Of34("FilmOnRoller", func(f Film, near sigma, d units.Length) (units.Voltage, float64, float64, sigma) {
			v := f.SurfaceVoltage(near)
			return v, f.OverRollerFactor(d), f.CapacitancePerArea(), f.OuterCharge(v)
		}, electrostatics, "= Film on an earthed roller: voltage σt/(ε0εr), field factor (t/εr)/(d+t/εr), capacitance "+
			"per area ε0εr/t.",
			aFilm, "near"+density+"charge density of the outer face", aDistance,
			"-> voltage: of the outer face; factor: E·ε0/σ; capacitance_per_area [F/m²]: to the roller; "+
				"charge_back: found back from the voltage"),
		compute.Of11("ElectrostaticPressure", ElectrostaticPressure, electrostatics, aNet,
			"-> pressure: pull per area to one earthed plane"),
		compute.Of22("ClingLimit", func(w units.BasisWeight, net sigma) (sigma, float64) {
			return ClingLimit(w),
				ClingRatio(net, w)
		}, electrostatics,
			"= Charge density at which the pull to one plane equals the weight, √(2ε0·m″·g), and the ratio of pull to "+
				"weight at the given one.",
			"mass_per_area 1e-6…100: of the sheet", aNet, "-> limit: charge density; ratio: pull over weight"),
		compute.Of32("Image", func(q units.Charge, h, r units.Length) (units.Force, sigma) {
			return ImageForce(q, h), ImageDensity(q, h, r)
		},
			electrostatics, "= Point charge over an earthed plane: attraction q²/(16πε0h²) and induced density "+
				"−qh/(2π(r²+h²)^(3/2)).",
			aCharge, "height 1e-9…1e3: over the plane; r 0…1e3: from the foot -> force: attraction; density: induced"),
		compute.Of43("RollerCurrent", func(s sigma, v units.Speed, w units.Length,
			have units.LineCurrent) (units.LineCurrent, units.Current, float64) {
			i := s.Current(v)
			return i, RollerCurrent(s, v, w), CurrentMargin(have, i)
		}, definition, "= Current per width of a moving web, σ·v, of the roller it left, −Δσ·v·w, and the margin of a "+
			"neutraliser.",
			aNet, "speed 0…1e3: of the web; width 0…1e3: of the web; available 0…1: what the neutraliser gives",
			"-> line_current: of the web; roller_current: of the roller; margin: available over needed"),
	}
}
