package line

import (
	_ "embed" // for the sentences

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// short is the line of the entries: an unwind, an idler that charges face A, a
// span and a winder.
type short struct {
	Thickness units.Length
	Weight    units.Density
	Epsr      float64
	Speed     units.Speed
	Change    units.SurfaceChargeDensity
	Exponent  float64
	Leak      units.Time // to earth between idler and place; 0: none
}

const aShort = "thickness 1e-6…1e-3: of the film; film_density 100…10000: of the film; " +
	"relative_permittivity 1…100: of the film; " +
	"survey_speed 0.01…50: at which the change was found; change -1e-5…1e-5: of face A at the idler; " +
	"exponent -1…2: of the change with speed; " +
	"leak 0…1e9: time constant along an earthed edge between idler and place, 0 for none"

func (s short) line() (*Line, error) {
	const uC = units.MicrocoulombPerSquareMetre
	place := StationSpec{Name: "place", Kind: Place, At: 1.5 * units.Metre, Gap: 300 * units.Millimetre}
	if s.Leak > 0 {
		place.Leak = &LeakSpec{Path: decay.EarthedEdge, Time: s.Leak}
	}
	return New(&Description{
		Schema: Schema, Name: "short line",
		Web: Web{Material: "film", Thickness: s.Thickness, Width: units.Metre, Density: s.Weight,
			RelativePermittivity: known.Band{Value: s.Epsr}, VolumeResistivity: units.VolumeResistivity(1e16),
			Humidity: humidity.Inert},
		Speed: s.Speed, Limit: Limit{Kind: ClingLimit},
		Air: AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 40 * units.PercentRH, Pressure: units.Atmosphere},
		Meters: []Meter{{Name: "meter", Kind: FieldMeterKind, Nominal: 25 * units.Millimetre, Guarded: true,
			FullScale: units.DisplayVoltage(20e3),
			Gain:      0.05, Offset: 40 * units.Volt, Placing: 3 * units.Millimetre, Spots: 0.2}},
		Stations: []StationSpec{
			{Name: "unwind", Kind: Unwind, Change: []ChangeSpec{{Face: FaceA, Spread: uC}, {Face: FaceB, Spread: uC}}},
			{Name: "idler", Kind: Roller, At: units.Metre, Roller: &RollerSpec{Radius: 50 * units.Millimetre, Kind: BareMetal},
				Change: []ChangeSpec{{Face: FaceA, Median: s.Change, Spread: uC, Speed: known.Band{Value: s.Exponent}}}},
			place,
			{Name: "winder", Kind: Winder, At: 3 * units.Metre},
		},
	})
}

// Computations lists the public computations of the package for the scoreboard
// and the notebook wrapper: a short line stands for any.
func Computations() []compute.Entry {
	own := known.Source{Provenance: known.Computed, Cite: "the walk along the path: laws of packages charge and " +
		"decay, station by station"}
	return compute.List("line", sentences, []compute.Entry{
		compute.Of24("RunTo", func(s short, v units.Speed) (idler, place Result, net units.SurfaceChargeDensity, err error) {
			l, err := s.line()
			if err != nil {
				return
			}
			res := make([]Result, l.Len())
			l.RunTo(res, v)
			at := l.Station("place")
			return res[1], res[at], res[at].Net(), nil
		}, own, "= A line of an unwind, an idler that charges face A and a place, at a speed: what each station leaves.",
			aShort, "speed 0.01…50: of the line",
			"-> idler_a: face A after the idler; idler_b: face B; idler_gain_a: given to face A; idler_gain_b: to face B; "+
				"idler_lost: to earth before",
			"idler_ruled: what ruled; idler_flags: of its model; place_a: face A at the place; place_b: face B; "+
				"place_gain_a: given there; "+
				"place_gain_b: to face B",
			"place_lost: to earth on the way; place_ruled: what ruled; place_flags: of its model; "+
				"net: of both faces at the place"),
		compute.Of44("RunFrom", func(s short, a, b units.SurfaceChargeDensity, v units.Speed) (place Result,
			before, net units.SurfaceChargeDensity, err error) {
			l, err := s.line()
			if err != nil {
				return
			}
			state := State{A: a, B: b}
			res := make([]Result, l.Len())
			l.RunFrom(res, l.Station("idler"), state, Conditions{Speed: v})
			return res[0], state.Net(), res[0].Net(), nil
		}, own, "= The same line from what was measured behind its idler: what is left at the place.",
			aShort, "a -1e-5…1e-5: face A behind the idler; b -1e-5…1e-5: face B; speed 0.01…50: of the line",
			"-> place_a: face A at the place; place_b: face B; place_gain_a: given there; place_gain_b: to face B",
			"place_lost: to earth on the way; place_ruled: what ruled; place_flags: of its model; "+
				"before: net behind the idler; net: at the place"),
		compute.Of42("Expect", func(s short, d units.Length, a, b units.SurfaceChargeDensity) ([3]units.DisplayVoltage,
			error) {
			var shown [3]units.DisplayVoltage
			l, err := s.line()
			if err != nil {
				return shown, err
			}
			band, err := l.Expect(&Look{Station: "place", Quantity: FieldMeter, Face: FaceA, Distance: d, Running: true,
				Meter: "meter"}, a, b)
			for i, x := range band {
				shown[i] = units.DisplayVoltage(x)
			}
			return shown, err
		}, own, "= What a field meter of ±5 % shows at the place, 300 mm before metal, for given charges: 5 (1), 50 (2) "+
			"and 95 % (3).",
			aShort, "! reach-in", "distance 5e-3…0.2: from meter to web; a -1e-5…1e-5: face A; "+
				"b -1e-5…1e-5: face B -> shown#: quantile of the display"),
		compute.Of13("Limit", func(s short) (units.SurfaceChargeDensity, units.SurfaceChargeDensity, error) {
			l, err := s.line()
			if err != nil {
				return 0, 0, err
			}
			return l.Limit(), l.NetCap(), nil
		}, own, "= Net charge at which the film clings, √(2ε0·m″·g), and the most that air lets a free span carry.",
			aShort, "-> limit: of cling; cap: of the gas"),
	})
}
