package ioniser

import (
	_ "embed" // for the sentences
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

//go:generate go run example.org/pithball/internal/docgen

//go:embed computations.txt
var sentences string

// derived is the source of what this package derives.
func derived(what string) known.Source {
	return known.Source{Provenance: known.Computed, Cite: what}
}

var (
	marched = derived("steady drift of both polarities with recombination and Gauss' law along a plume, " +
		"reduced to a march; derived here, held to the coupled one-dimensional problem")
	ownField = known.Source{Provenance: known.Memory,
		Cite: "R. S. Sigmond, J. Appl. Phys. 53 (1982) 891 (saturation current of a point to a plane)",
		Note: "the constant was not compared with the source; ±40 %"}
)

// Items that entries share.
const (
	itemCorona = "! ioniser-in-zone high-voltage ozone"
	itemIons   = "plus 1e-9…1e-2 = 1.4e-4: mobility of positive ions; " +
		"minus 1e-9…1e-2 = 1.7e-4: of negative ions; alpha 0…1e-9 = 1.6e-12: recombination coefficient"
	itemWeb = "net -1e-3…1e-3: net charge density of the web; speed 0…1e3: of the web; " +
		"gap 1e-6…1e9: air-equivalent distance of metal behind the web, 1e9 for none"
	itemPlume = "mouth 0.01…700: air speed at the mouth; width 1e-5…1: breadth of the plume there; " +
		"core 0…100: length over which it begins to slow down, 0 for a uniform stream; " +
		"row: a row of holes before they merge instead of a slot"
	itemBar = "emission 1e-9…0.1: ion current of each polarity; balance -1…1 = 0: (I+ − I−)/(I+ + I−); " +
		"captured 1e-6…1: share that leaves with the air at the speed of the mouth; distance 1e-3…10: to the web"
	itemPoints = "voltage 100…50e3: of the points, peak if they alternate; " +
		"start 0…50e3: voltage at which their corona starts; pitch 1e-3…1: distance between them"
	itemPassed = "left: net after the pass; deposited: added to the face; " +
		"regime: what limited it, as ionflow.Regime counts; validity: flags of known.Validity, 0 for none"
)

// Computations lists the public computations of the package.
func Computations() []compute.Entry {
	return compute.List("ioniser", sentences, slices.Concat(passEntries(), lawEntries(), searchEntries(),
		floorEntries()))
}

func ionsOf(plus, minus units.Mobility, alpha units.RecombinationCoefficient) ionflow.Ions {
	return ionflow.Ions{Plus: plus, Minus: minus, Alpha: alpha}
}

// blown is the argument list of a blown bar.
type blown struct {
	Mouth     units.Speed
	Width     units.Length
	Core      units.Length
	Row       bool
	Emission  units.LineCurrent
	Balance   float64
	Captured  float64
	Distance  units.Length
	Plus      units.Mobility
	Minus     units.Mobility
	Alpha     units.RecombinationCoefficient
	Frequency units.Frequency
	Contact   units.Length
}

const itemBlown = itemPlume + "; " + itemBar + "; " + itemIons + "; " +
	"frequency 0…1e5 = 0: of an alternating source, 0 for direct; " +
	"contact 0…100 = 0: length of web that the stream touches, 0 for the estimate of the library"

func (b blown) spec() (Spec, error) {
	e := ionflow.EmitterSpec{Kind: ionflow.DC, Current: b.Emission, Balance: b.Balance, Switch: b.Frequency}
	if b.Frequency > 0 {
		e.Kind = ionflow.AC
	}
	em, err := ionflow.NewEmitter(e)
	return Spec{Emitter: em, Distance: b.Distance, Ions: ionsOf(b.Plus, b.Minus, b.Alpha),
		Air: BlownAir{Stream: Plume{Speed: b.Mouth, Width: b.Width, Core: b.Core, Row: b.Row},
			Captured: b.Captured, Contact: b.Contact}}, err
}

// place makes a source before a web.
func place(s Spec, err error, gap units.Length) (*Place, error) {
	if err != nil {
		return nil, err
	}
	src, err := New(s)
	if err != nil {
		return nil, err
	}
	if gap >= 1e9*units.Metre {
		gap = NoMetal()
	}
	return src.At(gap)
}

// powered is the argument list of a powered bar without air.
type powered struct {
	Kind      ionflow.EmitterKind
	Emission  units.LineCurrent
	Balance   float64
	Voltage   units.Voltage
	Start     units.Voltage
	Pitch     units.Length
	Frequency units.Frequency
	Distance  units.Length
	Wind      units.Speed
	Plus      units.Mobility
	Minus     units.Mobility
	Alpha     units.RecombinationCoefficient
}

const itemPowered = "kind {DC|AC|pulsed}: of the emitter; emission 1e-9…0.1: ion current of each polarity; " +
	"balance -1…1 = 0: (I+ − I−)/(I+ + I−); " + itemPoints +
	"; frequency 0…1e5 = 0: 0 for DC; distance 1e-3…1: to the web; wind 0…100 = 0: air across the gap; " + itemIons

func (p powered) spec() (Spec, error) {
	em, err := ionflow.NewEmitter(ionflow.EmitterSpec{Kind: p.Kind, Current: p.Emission, Balance: p.Balance,
		Voltage: p.Voltage, Switch: p.Frequency})
	return Spec{Emitter: em, Distance: p.Distance, Ions: ionsOf(p.Plus, p.Minus, p.Alpha),
		Points: Points{Pitch: p.Pitch, Start: p.Start}, Wind: p.Wind}, err
}

func passEntries() []compute.Entry {
	type passed struct {
		Left, Deposited units.SurfaceChargeDensity
		Regime          ionflow.Regime
		Validity        known.Validity
	}
	of := func(r Result) passed { return passed{r.Left, r.Deposited, r.Regime, r.Validity} }
	return []compute.Entry{
		compute.Of("Blown", func(b blown, net units.SurfaceChargeDensity, v units.Speed,
			gap units.Length) (passed, units.SurfaceChargeDensity, units.LineCurrent,
			[2]units.SurfaceChargeDensity, units.Ratio, units.Speed, [2]units.SurfaceChargeDensity, error) {
			var none [2]units.SurfaceChargeDensity
			s, err := b.spec()
			p, err := place(s, err, gap)
			if err != nil {
				return passed{}, 0, 0, none, 0, 0, none, err
			}
			alone, r := p.Bracket(net, v)
			most, least := p.Band(net, v)
			lo, hi := p.Offset()
			eff := units.Ratio(0)
			if net != 0 {
				eff, _ = p.Efficiency(net, v)
			}
			_, current := p.CurrentBracket(net)
			return of(r), alone.Left, current, [2]units.SurfaceChargeDensity{lo, hi}, eff,
				min(p.FastestFor(net/10, net), 1e6*units.MetrePerSecond),
				[2]units.SurfaceChargeDensity{most.Left, least.Left}, nil
		}, marched, "= A blown bar on a moving web: what it leaves, with the field of the charge and by the "+
			"stream alone.", itemBlown, itemWeb,
			itemCorona, "-> "+itemPassed+"; stream_alone: net after the pass by the air stream alone; "+
				"current: delivered at once, positive if it lowers the net; "+
				"offset_#: ends of the offset of an imbalance; efficiency: share of the net removed; "+
				"speed_for_tenth: web speed at which a tenth is left; "+
				"band_#: most and least that is left within the accuracy of the model"),
		compute.Of("Unassisted", func(a powered, net units.SurfaceChargeDensity, v units.Speed,
			gap units.Length) (passed, units.LineCurrent, [2]units.SurfaceChargeDensity,
			units.SurfaceChargeDensity, units.Length, error) {
			s, err := a.spec()
			p, err := place(s, err, gap)
			if err != nil {
				return passed{}, 0, [2]units.SurfaceChargeDensity{}, 0, 0, err
			}
			lo, hi := p.DeadBand()
			return of(p.Act(net, v)), p.Current(net), [2]units.SurfaceChargeDensity{lo, hi}, p.Stripe(max(v, units.Speed(1e-3))),
				min(p.Source().Reach(), 1e6*units.Metre), nil
		}, ownField, "= A powered bar without air on a moving web: what its points' field and that of the "+
			"charge leave.", itemPowered, itemWeb,
			itemCorona, "-> "+itemPassed+"; current: delivered at once, positive if it lowers the net; "+
				"offset_#: ends of the interval of rest; "+
				"stripe: amplitude of the stripes of an alternating source; "+
				"reach: to which the alternating field carries ions"),
		compute.Of("Passive", func(d, pitch, body units.Length, tip units.Length, law ionflow.TipLaw,
			delta float64, plus, minus units.Mobility, net units.SurfaceChargeDensity, v units.Speed,
			gap units.Length) (passed, units.SurfaceChargeDensity, error) {
			p, err := place(Spec{Distance: d, Ions: ionsOf(plus, minus, 0), Points: Points{Pitch: pitch,
				Body: body, Tip: tip, Law: law, Delta: delta}}, nil, gap)
			if err != nil {
				return passed{}, 0, err
			}
			_, on := p.DeadBand()
			return of(p.Act(net, v)), on, nil
		}, ownField, "= Passive points on a moving web: what they leave, and their onset.",
			"distance 1e-3…1: from the tips to the web; pitch 1e-3…1: distance between the points; "+
				"body 1e-3…100: from the web to the earthed body behind the points; tip 1e-6…2e-3: radius; "+
				"law {cylinder|sphere}: of the onset; delta 0.3…1.5 = 1: relative density of the air; "+
				"plus 1e-9…1e-2 = 1.4e-4: mobility of positive ions; minus 1e-9…1e-2 = 1.7e-4: of negative ions",
			itemWeb, "! ioniser-in-zone isolated-conductor",
			"-> "+itemPassed+"; onset: net charge density below which nothing is taken"),
		compute.Of("Faces", func(b blown, near, far units.SurfaceChargeDensity, v units.Speed,
			gap units.Length) (units.SurfaceChargeDensity, units.SurfaceChargeDensity, units.SurfaceChargeDensity,
			units.Length, error) {
			s, err := b.spec()
			p, err := place(s, err, gap)
			if err != nil {
				return 0, 0, 0, 0, err
			}
			f, _ := p.ActOn(ionflow.Faces{Near: near, Far: far}, v)
			net, _ := p.Residual(near+far, v)
			return f.Near, f.Far, net, p.Zone(), nil
		}, marched, "= A blown bar on a web with charge on both faces: it sees the net and changes the near "+
			"face.", itemBlown,
			"near -1e-3…1e-3: charge of the face that the bar meets; far -1e-3…1e-3: of the other face; "+
				"speed 0…1e3: of the web; gap 1e-6…1e9: to metal behind it, 1e9 for none",
			itemCorona, "-> near: after the pass; far: unchanged; residual: magnitude of the net; "+
				"zone: length of web on which the bar acts"),
		compute.Of63("Fit", func(b blown, net, left units.SurfaceChargeDensity, v, other units.Speed,
			gap units.Length) (float64, passed, error) {
			s, err := b.spec()
			p, err := place(s, err, gap)
			if err != nil {
				return 0, passed{}, err
			}
			f, err := p.Fit(net, left, v)
			if err != nil {
				return 0, passed{}, err
			}
			return f.Factor(), of(f.Act(net, other)), nil
		}, marched, "= Factor on the current of a blown bar with which it leaves what was read, k = v·(T(net) − "+
			"T(left)), and what it then leaves at another speed.", itemBlown,
			"net -1e-3…1e-3: net charge density of the web before the bar; read -1e-3…1e-3: behind it; "+
				"speed 1e-6…1e3: of the web; other 0…1e3: speed asked for; "+
				"gap 1e-6…1e9: air-equivalent distance of metal behind the web, 1e9 for none",
			itemCorona, "-> factor: of the current; "+itemPassed),
		compute.Of53("InRow", func(b blown, spacing units.Length, net units.SurfaceChargeDensity, v units.Speed,
			gap units.Length) ([2]units.SurfaceChargeDensity, [2]units.SurfaceChargeDensity, error) {
			s, err := b.spec()
			p, err := place(s, err, gap)
			if err != nil {
				return [2]units.SurfaceChargeDensity{}, [2]units.SurfaceChargeDensity{}, err
			}
			row, err := NewSeries(Station{p, 0}, Station{p, spacing})
			if err != nil {
				return [2]units.SurfaceChargeDensity{}, [2]units.SurfaceChargeDensity{}, err
			}
			var each [2]Result
			row.Act(each[:], net, v)
			f := row.IfOneFails(net, v)
			return [2]units.SurfaceChargeDensity{each[0].Left, each[1].Left},
				[2]units.SurfaceChargeDensity{f[0].Left, f[1].Left}, nil
		}, marched, "= Two equal blown bars one after another, and what is left when one is off; "+
			"bars whose zones overlap are refused.", itemBlown,
			"spacing 0…1e3: of the bars along the web", itemWeb, itemCorona, "-> left_#: net after each bar; "+
				"failed_#: net behind both with this one off"),
	}
}

// unit is what an entry takes for no limit of a current.
const unlimited = 1e300

func lawEntries() []compute.Entry {
	return []compute.Entry{
		compute.Of("PointLaw", func(d, pitch, body units.Length, v, start units.Voltage, balance float64, plus,
			minus units.Mobility, phi units.Voltage) (units.LineCurrent, units.ElectricField, units.Voltage,
			units.Voltage) {
			r := pointLaw(d, pitch, body, v, start, balance, plus, minus)
			lo, hi := r.rest()
			return units.LineCurrent(r.current(float64(phi))), units.ElectricField(r.field(float64(phi))),
				units.Voltage(lo), units.Voltage(hi)
		}, ownField, "= Own-field law of a row of points: current and field at the potential φ of the web, I = "+
			"Σs·K·|x|(|x| − V_s) with x = φ ± V, without a limit of emission.",
			"distance 1e-3…1: to the web; pitch 1e-3…1: of the points; "+
				"body 0…100: distance of the earthed plane behind the points, 0 for that of the points; "+
				"voltage 0…50e3: ± of the points, half of them each, 0 for passive; "+
				"start 0…1e6: effective, between point and web; balance -1…1 = 0: of powered points; "+
				"plus 1e-9…1e-2: mobility of positive ions; minus 1e-9…1e-2: of negative; "+
				"potential -1e7…1e7: of the web",
			itemCorona, "-> current: positive if it lowers the net; field: at the web; "+
				"rest_low: lower end of the potentials without a current; rest_high: upper end"),
		compute.Of("PointPass", func(d, pitch, body units.Length, v, start units.Voltage, mu units.Mobility,
			emission units.LineCurrent, net units.SurfaceChargeDensity, speed units.Speed,
			gap units.Length) (units.SurfaceChargeDensity, error) {
			r := pointLaw(d, pitch, body, v, start, 0, mu, mu)
			r.most, r.least = float64(emission), float64(emission)
			s := Source{channels: []channel{r.channel(false)}, zone: ownZone * float64(d), draught: math.Inf(1)}
			p, err := s.At(gap)
			if err != nil {
				return 0, err
			}
			return p.Act(net, speed).Left, nil
		}, ownField, "= One pass under points with a given effective starting voltage: ∫dσ/I = 1/v by table.",
			"distance 1e-3…1: to the web; pitch 1e-3…1: of the points; "+
				"body 0…100: distance of the earthed plane behind the points, 0 for that of the points; "+
				"voltage 0…50e3: ± of the points, 0 for passive; start 0…1e6: effective, between point and web; "+
				"mobility 1e-9…1e-2: of the ions; emission 1e-9…0.1: per polarity",
			itemWeb, itemCorona, "-> left: net after the pass"),
		compute.Of42("Onset", func(body, d units.Length, on units.Voltage,
			gap units.Length) (units.SurfaceChargeDensity, error) {
			p, err := place(Spec{Distance: d, Ions: ionflow.SmallIons().At(0, 0, 0), Points: Points{Pitch: units.Metre,
				Body: body, Start: on}}, nil, gap)
			if err != nil {
				return 0, err
			}
			_, hi := p.DeadBand()
			return hi, nil
		}, derived("potential of a charged plane between its earthed body and metal behind it"),
			"= Charge at which one passive point starts, ε0·V_s·(1/D + 1/h) with V_s = V_on·D/(D − d).",
			"body 1e-3…100: distance D of the earthed body behind the points; distance 1e-3…1: of the points; "+
				"tip_start 1…1e6: own starting voltage of a tip at that distance; "+
				"gap 1e-6…1e9: to metal behind the web, 1e9 for none",
			itemCorona, "-> onset: net charge density"),
		compute.Of("Column", func(u units.Speed, b, core units.Length, row bool, emission units.LineCurrent,
			back units.Speed, density units.NumberDensity, d, wide, contact units.Length, turns bool, counter,
			like units.Mobility, alpha units.RecombinationCoefficient, net units.SurfaceChargeDensity,
			gap units.Length) (units.LineCurrent, error) {
			m := mouth{counter: float64(emission) / units.ElementaryCharge, back: float64(back)}
			if density > 0 { // a mouth of fixed density is one of infinite return
				m.back = 1e6
				m.counter = m.back * float64(density) * float64(b)
			}
			m.like = m.counter
			through := Plume{Speed: u, Width: b, Core: core, Row: row}
			c := newColumn(through, float64(d), float64(contact), float64(wide))
			i := c.deliver(&m, &carriers{float64(counter), float64(like), float64(alpha)}, turns, float64(net),
				1/float64(gap))
			return units.LineCurrent(i), nil
		}, marched, "= Current that a stream of both polarities delivers to a surface through which it passes, "+
			"or before which it turns, by the march with 32 panels.",
			"speed 0…700: of the air at the mouth; width 1e-5…10: of the plume there; "+
				"core 0…100: length over which it begins to slow down, 0 for uniform; "+
				"row: a row of holes instead of a slot; emission 0…0.1: of each polarity; "+
				"back 0…1e5: return speed of the mouth; "+
				"density 0…1e20: fixed at the mouth, instead of emission and return if above 0; "+
				"distance 1e-4…10: to the surface; wide 0…100: least breadth over which the field spreads; "+
				"contact 0…100: length that the stream touches; turns: before the surface; "+
				"counter 1e-9…1e-2: mobility of the ions that the charge calls; like 1e-9…1e-2: of the others; "+
				"alpha 0…1e-9: recombination coefficient; net 1e-12…1e-3: charge density of the surface; "+
				"gap 1e-6…1e300: to metal behind it",
			itemCorona, "-> current: per metre of width"),
		compute.Of41("Drawn", func(d, gap units.Length, mu units.Mobility,
			net units.SurfaceChargeDensity) units.CurrentDensity {
			e := float64(net) / units.Epsilon0 / (1 + 2*float64(d)/(3*float64(gap)))
			return units.CurrentDensity(units.Epsilon0 * float64(mu) * e * e / (2 * float64(d)))
		}, derived("space-charge limit with the field at the surface"),
			"= Current density of ions in abundance that a charge draws across a gap, ε0μF²/(2d) with F = "+
				"(σ/ε0)·h/(h + 2d/3).",
			"distance 1e-4…10: of the ions; gap 1e-6…1e300: to metal behind the surface; "+
				"mobility 1e-9…1e-2: of the ions; net 1e-12…1e-3: charge density of the surface",
			itemCorona, "-> current: density"),
		compute.Of("Bunches", func(n float64, u units.Speed, d units.Length, f units.Frequency, b units.Length,
			mu units.Mobility, alpha units.RecombinationCoefficient) float64 {
			a := alternating(ionflow.Ions{Plus: mu, Minus: mu, Alpha: alpha}, f, float64(u), float64(b))
			return n / (1 + float64(a)*n*float64(d)/(float64(u)*float64(u)*float64(b)))
		}, marched, "= Ions of each polarity that a uniform stream carries from an alternating source, N0/(1 + "+
			"α'·N0·x/(u²·b)).",
			"flux [1/(s·m)] 0…1e20: of each polarity at the mouth; speed 0.01…700: of the air; "+
				"distance 0…10: carried; frequency 0…1e5: 0 for direct; breadth 1e-4…10: of the plume; "+
				"mobility 1e-9…1e-2: of the ions; alpha 0…1e-9: recombination coefficient",
			itemCorona, "-> carried [1/(s·m)]: of each polarity"),
		compute.Of22("Plume", func(p Plume, x units.Length) (units.Speed, units.Length) {
			return p.MeanSpeed(x),
				p.Breadth(x)
		},
			derived("constant momentum"), "= Mean speed and breadth of a plume that is known by its mouth.",
			"speed 0…700: at the mouth; width 0…10: there; "+
				"core 0…100: length over which it begins to slow down; row: a row of holes; x 0…100: distance",
			itemCorona, "-> speed: mean; breadth: of the plume"),
	}
}

// pointLaw makes a row of points from an effective start.
func pointLaw(d, pitch, body units.Length, v, start units.Voltage, balance float64, plus, minus units.Mobility) *row {
	if body == 0 {
		body = d
	}
	r := &row{n: 2, start: float64(start), voltage: float64(v), d: float64(d), body: float64(body),
		slower: float64(min(plus, minus)), most: unlimited, least: unlimited}
	r.share[0], r.share[1] = 0.5, 0.5
	r.at[0], r.at[1] = float64(v), -float64(v)
	if v > 0 {
		plus, minus = min(plus, minus), min(plus, minus)
	}
	r.plus = saturation(float64(plus), r.d, float64(pitch)) * (1 + balance)
	r.minus = saturation(float64(minus), r.d, float64(pitch)) * (1 - balance)
	return r
}

// deliver returns the current to a surface of the charge net: the edge of the currents of the column
// that leave the surface below it, found in the logarithm of the share over what is left of it.
func (c *column) deliver(m *mouth, q *carriers, turns bool, net, perGap float64) float64 { // [A/m]
	at := func(l float64) (arrival, float64) {
		i := m.counter / (1 + numeric.Exp(-l))
		return c.march(m, q, i), i
	}
	most := math.Log(1e13)
	lo, _ := numeric.Edge(func(l float64) bool {
		a, _ := at(l)
		return !(units.Epsilon0*(a.field+a.voltage*perGap) > net)
	}, math.Log(1e-14), most, 0, 0)
	a, i := at(lo)
	if !turns {
		return units.ElementaryCharge * i
	}
	current, _, _ := c.turned(q, i, &a)
	return current
}
