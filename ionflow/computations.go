package ionflow

import (
	_ "embed" // for the sentences
	"math"
	"slices"

	"example.org/pithball/ionflow/jet"
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
	return compute.List("ionflow", sentences, slices.Concat(ionComputations(), populationComputations(),
		surfaceComputations(),
		plateComputations(), emitterComputations()))
}

func derived(how string) known.Source   { return known.Source{Provenance: known.Computed, Cite: how} }
func read(cite string) known.Source     { return known.Source{Provenance: known.Published, Cite: cite} }
func recalled(cite string) known.Source { return known.Source{Provenance: known.Memory, Cite: cite} }

// Items that many declarations share.
const (
	aT      = "temperature 100…500: of the air"
	aP      = "pressure 1e3…1e6: absolute pressure"
	aMu     = "mobility 1e-9…1e-2: of the ions"
	aPlus   = "mobility_plus 1e-9…1e-2: mobility of positive ions"
	aMinus  = "mobility_minus 1e-9…1e-2: mobility of negative ions"
	aAlpha  = "alpha 0…1e-9: recombination coefficient"
	aN0     = "density 0…1e25: density of each polarity at the start"
	aNp     = "density_plus 0…1e25: density of positive ions"
	aNm     = "density_minus 0…1e25: density of negative ions"
	aTime   = "time 0…1e9: time"
	aX      = "distance 0…100: distance from the source"
	aU      = "speed 0…1e3: speed of the air"
	aV      = "web_speed 0…100: speed of the web"
	aSigma  = "sigma -1…1: net surface charge density"
	aFactor = "factor 0…10: field factor of the place"
	aZone   = "zone 1e-4…10: length of the plume on the web"
	aLambda = "conductivity 1e-16…1e-3: polar conductivity of the opposite polarity"
	aIons   = aPlus + "; " + aMinus + "; " + aAlpha
	twoN    = "-> plus: density of positive ions; minus: density of negative ions"
)

// pair is the ions of an entry.
type pair struct {
	Plus, Minus units.Mobility
	Alpha       units.RecombinationCoefficient
}

func (p pair) ions() Ions { return Ions(p) }

// must turns a result that has no value into an error that names it.
func must(name string, v float64) error { // v [any]
	if math.IsNaN(v) {
		return known.Wrong(name, v, "arguments for which it exists")
	}
	return nil
}

func ionComputations() []compute.Entry {
	const tammet = "H. Tammet, ion equilibrium algorithm, University of Tartu, hdl 10062/50287"
	return []compute.Entry{
		compute.Of32("Diffusion", func(mu units.Mobility, t units.Temperature, given units.Diffusivity) (units.Diffusivity,
			units.Ratio) {
			return Diffusion(mu, t), EinsteinMismatch(mu, given, t)
		}, derived("A. Einstein, Ann. Phys. 17 (1905) 549"), "= Diffusivity of an ion, D = μkT/e, and how far a given D "+
			"is off it.",
			aMu, aT, "given 0…1: diffusivity to compare -> diffusivity: D; mismatch: given/D − 1"),
		compute.Of11("CoulombLength", CoulombLength, derived("L. Onsager, Phys. Rev. 54 (1938) 554"), aT,
			"-> length: of two elementary charges"),
		compute.Of32("LangevinRecombination", func(p, m units.Mobility,
			a units.RecombinationCoefficient) (units.RecombinationCoefficient, float64) {
			l := LangevinRecombination(p, m)
			return l, float64(a) / float64(l)
		}, derived("P. Langevin, Ann. Chim. Phys. 28 (1903) 433"),
			"= Drift limit of recombination e(μ+ + μ−)/ε0, and the share of it that a coefficient is.", aIons,
			"-> limit: of drift; share: alpha over the limit"),
		compute.Of54("SmallIons", func(p, m, a float64, t units.Temperature, pr units.Pressure) (units.Mobility,
			units.Mobility,
			units.RecombinationCoefficient, error) {
			i, _ := SmallIons().At(p, m, a).In(t, pr)
			return i.Plus, i.Minus, i.Alpha, i.Check()
		}, SmallIons().Source, "= Properties of the small ions of air at standard normal scores of their bands.",
			"score_plus -5…5: of the positive mobility; score_minus -5…5: of the negative mobility; "+
				"score_alpha -5…5: of recombination", aT, aP,
			"-> mobility_plus: of positive ions; mobility_minus: of negative ions; alpha: recombination coefficient"),
		compute.Of33("Recombination", func(law RecombinationLaw, t units.Temperature,
			p units.Pressure) (units.RecombinationCoefficient, known.Validity, error) {
			a, flag := Recombination(law, t, p)
			return a, flag, must("alpha", float64(a))
		}, read("A. Franchin et al., Atmos. Chem. Phys. 15 (2015) 7203; "+
			"B. A. Tinsley and L. Zhou, J. Geophys. Res. 111 (2006) D16205"), "law: which law", aT, aP,
			"-> alpha: coefficient; validity: flags"),
		compute.Of62("MobilityAt", MobilityAt, read("H. Tammet, J. Geophys. Res. 103 (1998) 13933; "+
			"L. Zhou and B. A. Tinsley, J. Geophys. Res. 112 (2007) D11203"), "law: of the temperature", aMu,
			"temperature_0 100…500: at which it is known; pressure_0 1e3…1e6: at which it is known", aT, aP,
			"-> mobility: there; validity: flags"),
		compute.Of34("MillikanMobility", func(d units.Length, t units.Temperature, p units.Pressure) (units.Mobility,
			units.Length, float64,
			known.Validity) {
			v, flags := MillikanMobility(d, t, p)
			return v, MeanFreePath(t, p), AirViscosity(t), flags
		}, derived("H. Tammet, plain Millikan mobility algorithm, University of Tartu, hdl 10062/50287"),
			"= Mobility of a singly charged sphere with the mean free path and viscosity of the air.",
			"diameter 1e-10…1e-3: of the sphere", aT, aP,
			"-> mobility: of the sphere; mean_free_path: of the air; viscosity [Pa·s]: of the air; validity: flags"),
		compute.Of52("Attachment", func(mu units.Mobility, t units.Temperature, d units.Length, charges float64,
			ion units.Length) (float64, float64) {
			b, _ := Attachment(Diffusion(mu, t), d)
			return float64(b), float64(AttachmentCharged(charges, d, ion, t))
		}, derived(tammet), "= Rate coefficient 2πD(d − 1.5 nm) of attachment to aerosol, and the factor x/(eˣ−1) of "+
			"its charge.",
			aMu, aT, "diameter 1e-9…1e-4: of the particles; charges -1e3…1e3: on the particle, positive if like the ion; "+
				"ion_diameter 0…1e-8: of the ion",
			"-> beta [m³/s]: rate coefficient; charge_factor: of the charge"),
		compute.Of63("IonEquilibrium", func(i pair, q float64, n units.NumberDensity, d, ion units.Length,
			t units.Temperature) (units.NumberDensity,
			units.NumberDensity, error) {
			p, m, _ := IonEquilibrium(i.ions(), q, n, d, ion, t)
			return p, m, must("particles", float64(p))
		}, derived(tammet), "= Steady small ions in still air with aerosol: q = αn+n− + β±Nn±, particles with a "+
			"distribution of charges.",
			aIons, "production [1/(m³·s)] 1e-3…1e20: ion pairs made; particles 0…1e14: of the aerosol; "+
				"diameter 2e-9…1e-5: of the particles",
			"ion_diameter 0…1e-8: of the ions", aT, twoN),
	}
}

func populationComputations() []compute.Entry {
	rate := derived("closed form of the rate equation")
	path := derived("rate equations, integrated with an embedded Runge–Kutta pair")
	gormley := derived("P. G. Gormley and M. Kennedy, Proc. R. Ir. Acad. 52A (1949) 163")
	// The integrator is explicit: within these ranges it needs some thousand steps at most.
	const start = "density_plus 0…1e18: density of positive ions; density_minus 0…1e18: density of negative ions; " +
		"mobility_plus 1e-5…1e-3: mobility of positive ions; mobility_minus 1e-5…1e-3: mobility of negative ions; " +
		"alpha 0…1e-11: recombination coefficient"
	const loss = "loss 0…1e9: loss rate"
	const n = "-> density: then"
	type density = units.NumberDensity
	return []compute.Entry{
		compute.Of32("Recombine", func(n0 density, a units.RecombinationCoefficient, t units.Time) (density, density) {
			return Recombine(n0, a, t), RecombinationCeiling(a, t)
		}, derived("J. J. Thomson and E. Rutherford, Phil. Mag. 42 (1896) 392"),
			"= Equal densities that recombine, n = n0/(1 + αn0t), and the ceiling 1/(αt).", aN0, aAlpha, aTime,
			"-> density: then; ceiling: of any start"),
		compute.Of42("RecombineUnequal", RecombineUnequal, rate, aNp, aNm, aAlpha, aTime, twoN),
		compute.Of41("RecombineLosing", RecombineLosing, rate, aN0, aAlpha, loss, aTime, n),
		compute.Of31("SteadyDensity", SteadyDensity, rate, "production [1/(m³·s)] 0…1e25: ion pairs made", aAlpha, loss,
			"-> density: steady"),
		compute.Of32("Repel", func(n0 density, mu units.Mobility, t units.Time) (density, density) {
			return Repel(n0, mu, t), RepulsionCeiling(mu, t)
		},
			derived("closed form of the continuity equation"),
			"= One polarity that expands under its own charge, n = n0/(1 + eμn0t/ε0), and the ceiling ε0/(eμt).", aN0, aMu,
			aTime,
			"-> density: then; ceiling: of any start"),
		compute.Of43("Parcel", func(p, m density, i pair, t units.Time) (density, density, error) {
			// At 1 m/s the way has as many metres as the time has seconds.
			v, err := Path(Uniform{Speed: units.MetrePerSecond, Repulsion: 1}, i.ions(), p, m, units.Length(t), 1e-10)
			return v.Plus, v.Minus, err
		}, path, "= Both polarities in a parcel of air: recombination and the repulsion of what charge is left over, by "+
			"the path integrator.",
			start, "time 1e-9…1e3: in the parcel", twoN),
		compute.Of("PathInJet", inJet, path, "= Both polarities in a free round jet behind a duct with losses, by the "+
			"path integrator: densities, age, "+
			"both ceilings, and which loss ruled.", start, "duct 1e-4…1: length; loss 0…1e4: rate in the duct; "+
			"width 1e-4…0.1: of the jet",
			"speed 0.1…700: at the source; distance 1e-3…10: beyond the duct", twoN,
			"age: of the ions; recombination: ceiling; repulsion: ceiling; ruled: loss of positive ions"),
		compute.Of42("LangevinParcel", LangevinParcel, derived("exact solution of the rate equations"), aNp, aNm, aMu, aTime,
			twoN),
		compute.Of51("InJet", InJet, derived("closed form; u·Q is constant"), aN0, aAlpha, aX,
			"speed 1e-3…1e3: at the source; entrainment 1…1e6: Q/Q0", n),
		compute.Of52("InStagnation", func(n0 density, a units.RecombinationCoefficient, x, l units.Length,
			u units.Speed) (density, error) {
			v := InStagnation(n0, a, x, l, u)
			return v, must("distance", float64(v))
		}, rate, aN0, aAlpha, aX, "length 1e-6…100: distance of the wall; speed 1e-3…1e3: at the inlet", n),
		compute.Of11("TubePenetration", TubePenetration, gormley, "m 0…1e3: πDL/Q -> share: that leaves"),
		compute.Of31("Tube", func(d units.Diffusivity, l units.Length, q units.VolumeFlow) units.Ratio {
			return TubePenetration(TubeParameter(d, l, q))
		},
			gormley, "= Share of ions of a diffusivity that leave a tube of a length at a flow.",
			"diffusivity 1e-9…1e-3: of the ions; length 1e-4…100: of the tube; flow 1e-9…1: of the air -> share: that leaves"),
		compute.Of53("UnipolarFlux", UnipolarFlux, derived("first integral of drift with space charge"), aN0, aMu, aU,
			"length 1e-6…100: of the way",
			"field -1e8…1e8: at the wall, positive if it attracts -> current: to the wall; inlet_speed: of the ions; "+
				"validity: flags of known.Validity, 0 for none"),
	}
}

// onPath is what is told about ions at the end of a path.
type onPath struct {
	plus, minus   units.NumberDensity
	age           units.Time
	recombination units.NumberDensity
	repulsion     units.NumberDensity
	ruled         Loss
}

func inJet(p, m units.NumberDensity, i pair, duct units.Length, loss units.Frequency, w units.Length, u units.Speed,
	x units.Length) (onPath, error) {
	j, err := jet.NewJet(jet.JetSpec{Kind: jet.Round, Width: w, Speed: u})
	if err != nil {
		return onPath{}, err
	}
	free := InFreeJet{Jet: j, Base: Local{Repulsion: 1}}
	way := WayFunc(func(x units.Length) Local {
		if x < duct {
			return Local{Speed: u, LossPlus: loss, LossMinus: loss}
		}
		return free.At(x - duct)
	})
	v, err := Path(way, i.ions(), p, m, duct+x, 0)
	return onPath{v.Plus, v.Minus, v.Age, units.NumberDensity(min(float64(v.Recombination), 1e308)), v.Repulsion,
		v.PlusLoss.Ruled()}, err
}
