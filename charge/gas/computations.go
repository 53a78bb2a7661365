package gas

import (
	_ "embed" // for the sentences

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
	gauss := known.Source{Provenance: known.Computed, Cite: "Gauss's law with the breakdown law"}
	meek := known.Source{Provenance: known.Quoted, Cite: "J. M. Meek, J. D. Craggs, Electrical Breakdown of Gases; " +
		"A. Peschot, N. Bonifaci, O. Lesaint, C. Valadares, C. Poulain, Appl. Phys. Lett. 105 (2014) 123109; " +
		"E. M. Bazelyan, Yu. P. Raizer, Spark Discharge",
		Via:  "a high-voltage textbook; J. Lux, Paschen's law; Wikipedia, Paschen's law",
		Note: "pieced together; the abstract of Peschot et al. was read"}
	collected := known.Source{Provenance: known.Quoted, Cite: "116 voltages of ten works, 29 medians of single shots " +
		"(R.-T. Lee et al. 2001) and the standard sphere-gap tables",
		Via: "a public collection of digitised breakdown data; J. Lux, Sphere Gap Breakdown Voltage Tables"}
	loveless := known.Source{Provenance: known.Published,
		Cite: "A. M. Loveless et al., The transition to Paschen's law for microscale gas breakdown at subatmospheric " +
			"pressure, Sci. Rep. 9 (2019) 5669, doi 10.1038/s41598-019-42111-2",
		Note: "the least over the gap is derived"}
	raizer := known.Source{Provenance: known.Quoted, Cite: "E. M. Bazelyan, Yu. P. Raizer, Spark Discharge (1998)",
		Via: "J. Lux, Paschen's law (web page)"}
	type sigma = units.SurfaceChargeDensity
	const (
		gap     = "gap 0…10: uniform gap"
		density = "density 0.01…5: air density relative to 20 °C and 101.325 kPa" // MaxDensity
		epsr    = "permittivity 1…1e5: relative permittivity"
		film    = "thickness 1e-7…1: of the film; " + epsr
		cap     = "-> cap: greatest charge density that the gas leaves"
		rules   = "gap: gap of the breakdown that rules"
		flags   = "validity: flags"
		paschen = "a [1/(Pa·m)] 1e-3…1e9: A of the gas; b [V/(Pa·m)] 1e-3…1e9: B of the gas; " +
			"gamma 1e-9…1: secondary emission; _; _"
		faces = "faces 1…2: faces that share the field"
	)
	return compute.List("gas", sentences, []compute.Entry{
		compute.Of("BreakdownVoltage", func(z units.Length, delta float64) (v, lo, mid, hi units.Voltage,
			flags known.Validity) {
			lo, mid, hi = BreakdownLimits(z, delta)
			v, flags = BreakdownVoltage(z, delta)
			return v, lo, hi, mid, flags
		}, meek, gap, density, "-> voltage: of the law; low: lower limit of measured voltages; "+
			"high: upper limit of measured voltages; "+
			"median: of measured voltages", flags),
		compute.Of13("BreakdownSpread", BreakdownSpread, collected, gap,
			"-> low: measured voltages over the law, lower limit; median: median; high: upper limit"),
		compute.Of32("BreakdownAt", func(z units.Length, p units.Pressure, t units.Temperature) (units.Voltage,
			known.Validity) {
			return BreakdownVoltage(z, p.RelativeDensity(t))
		}, meek, "= Breakdown voltage of air at a pressure and temperature: BreakdownVoltage at Pressure.RelativeDensity.",
			gap, "pressure 1e3…5e5: absolute; temperature 200…500: of the air -> voltage: median", flags),
		compute.Of24("Paschen", func(s PaschenSpec, pd float64) (units.Voltage, units.Voltage, float64, error) {
			p, err := NewPaschen(s)
			if err != nil {
				return 0, 0, 0, err
			}
			v, _ := p.Voltage(pd)
			least, at := p.Minimum()
			return v, least, at, nil
		}, loveless, "= Paschen's law with one set of constants, V = B·pd/(ln(A·pd) − ln ln(1+1/γ)), and its minimum.",
			paschen, "pd [Pa·m] 0…1e9: pressure times gap",
			"-> voltage: +Inf where there is no breakdown; minimum: least voltage; minimum_pd [Pa·m]: where it is met"),
		compute.Of("AirPaschen", func() (a, b, gamma float64) { s := AirPaschen(); return s.A, s.B, s.Gamma }, raizer,
			"= Constants of air for Paschen's law in one published set.",
			"-> a [1/(Pa·m)]: A of air; b [V/(Pa·m)]: B of air; gamma: secondary emission"),
		compute.Of("Paschen.CapBacked", compute.Made(NewPaschen, (*Paschen).CapBacked), loveless, paschen, film,
			"pressure 1…1e7: absolute",
			cap, rules, flags),
		compute.Of("HumidityFactor", func(z units.Length, h units.VapourDensity) (f, slope, lo, hi float64,
			flags known.Validity) {
			f, flags = HumidityFactor(z, h)
			s, _ := HumiditySlope(z)
			lo, hi = s.Limits()
			return f, s.Value, lo, hi, flags
		}, kuffel, gap, "vapour 0…1: absolute humidity -> factor: on the breakdown voltage; slope [m³/kg]: s; "+
			"low [m³/kg]: lower limit of s; "+
			"high [m³/kg]: upper limit of s", flags),
		compute.Of13("FindSparkingMinimum", func(_ int) (units.Voltage, float64, error) {
			m, err := FindSparkingMinimum("air", known.Quoted)
			return m.Voltage, m.PD, err
		}, sparkingTable.Rows()[0].Source,
			"gas {air}: published entries -> voltage: least breakdown voltage; pd [Pa·m]: where it is met"),
		compute.Of("CapBacked", func(t units.Length, epsr, delta float64) (cap sigma, z units.Length, lo, mid, hi sigma,
			flags known.Validity) {
			cap, z, flags = CapBacked(t, epsr, delta)
			lo, mid, hi = CapBackedLimits(t, epsr, delta)
			return cap, z, lo, mid, hi, flags
		}, gauss, film, density, cap, rules, "low: lower limit by measured voltages; median: by measured voltages; "+
			"high: upper limit by measured voltages", flags),
		compute.Of33("CapSquare", CapSquare, gauss, "side 10e-6…1: of the square; counter: what it leaves", density, cap,
			rules, flags),
		compute.Of32("CapFreeWeb", CapFreeWeb, gauss, faces, gap, density, cap, flags),
		compute.Of21("CapUniform", CapUniform, gauss, faces, "strength 0…1e10: breakdown field", cap),
		compute.Of21("CapBulk", CapBulk, gauss, epsr, "strength 0…1e10: of the film", cap),
		compute.Of23("CapSphere", CapSphere, known.Source{Provenance: known.Published,
			Cite: "T. Matsuyama, H. Yamamoto, Charge relaxation process dominates contact charging of a particle in " +
				"atmospheric conditions, J. Phys. D 28 (1995) 2418", Note: "abstract"}, "radius 1e-6…1: of the sphere", density,
			"-> charge: greatest of the sphere", rules, flags),
		compute.Of("Least", func(other, end units.Length, delta float64) (e units.ElectricField, z units.Length, lo, mid,
			hi units.ElectricField,
			flags known.Validity) {
			e, z, flags = Least(other, end, delta)
			lo, mid, hi = LeastLimits(other, end, delta)
			return e, z, lo, mid, hi, flags
		}, gauss, "other 1e-6…1e6: distance to the next earth on the outer side; end 1e-9…1e6: greatest gap", density,
			"-> field: least of V_b(z)·(1/z + 1/other)", rules, "low: lower limit by measured voltages; "+
				"median: by measured voltages; "+
				"high: upper limit by measured voltages", flags),
	})
}
