package decay

import (
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Model is a law of decay that can be fitted to readings.
type Model uint8

// The models. V0 is the voltage at t = 0, or at the unknown start if the start
// time is fitted.
const (
	ModelExponential       Model = iota // V0·e^(−t/τ)
	ModelOffsetExponential              // Vb + (V0 − Vb)·e^(−t/τ)
	ModelTwoExponentials                // V0·[w·e^(−t/τ1) + (1−w)·e^(−t/τ2)]
	ModelStretched                      // V0·exp[−(t/τ)^β]
	ModelPowerLaw                       // V0·(1 + t/t0)^(−n)
	ModelHyperbolic                     // V0/(1 + kV0·t)
	ModelOhmicMobility                  // V0·e^(−t/τ)/[1 + a(1 − e^(−t/τ))]
	ModelTransit                        // V0·(1 − t/2t_tr), then V0·t_tr/2t
	models
)

// modelInfo is what the fit needs to know of a model besides its value.
type modelInfo struct {
	name   string
	params []paramInfo // of the shape, without V0, Vb and the start
	aged   bool        // the start time is not absorbed by the other parameters
}

// scale is how a parameter is fitted, so that its errors are nearly Gaussian
// and it cannot leave its range.
type scale uint8

const (
	linear scale = iota
	logarithm
	logit
)

type paramInfo struct {
	name, unit string
	scale      scale
}

var modelInfos = [models]modelInfo{
	{"exponential", []paramInfo{{"tau", "s", logarithm}}, false},
	{"exponential with offset", []paramInfo{{"tau", "s", logarithm}}, false},
	{"two exponentials", []paramInfo{{"tau1", "s", logarithm}, {"tau2", "s", logarithm}, {"w1", "1", logit}}, false},
	{"stretched exponential", []paramInfo{{"tau", "s", logarithm}, {"beta", "1", logit}}, true},
	{"power law", []paramInfo{{"t0", "s", logarithm}, {"n", "1", logarithm}}, false},
	{"hyperbola", []paramInfo{{"k_v0", "1/s", logarithm}}, false},
	{"ohmic and mobility", []paramInfo{{"tau", "s", logarithm}, {"a", "1", logarithm}}, false},
	{"transit", []paramInfo{{"t_tr", "s", logarithm}}, true},
}

// String returns the name of the model, or "Model(n)".
func (m Model) String() string {
	if m < models {
		return modelInfos[m].name
	}
	return fmt.Sprintf("Model(%d)", uint8(m))
}

// MarshalText writes the name of the model; an unknown value is an error.
func (m Model) MarshalText() ([]byte, error) {
	if m >= models {
		return nil, known.Wrong("model", uint8(m), "one of AllModels")
	}
	return []byte(modelInfos[m].name), nil
}

// UnmarshalText reads a name as written by String; anything else is a
// [*known.FieldError] and leaves the value as it was.
func (m *Model) UnmarshalText(b []byte) error {
	for i := range modelInfos {
		if modelInfos[i].name == string(b) {
			*m = Model(i)
			return nil
		}
	}
	return known.Wrong("model", string(b), fmt.Sprintf("one of %v", AllModels()))
}

// AllModels lists the models in the order of their constants.
func AllModels() []Model {
	list := make([]Model, models)
	for i := range list {
		list[i] = Model(i)
	}
	return list
}

func sigmoid(x float64) float64 { return 1 / (1 + numeric.Exp(-x)) }

// natural turns a fitted parameter into its value, raw the other way.
func (s scale) natural(x float64) float64 {
	switch s {
	case logarithm:
		return numeric.Exp(x)
	case logit:
		return sigmoid(x)
	}
	return x
}

func (s scale) raw(v float64) float64 {
	switch s {
	case logarithm:
		return math.Log(v)
	case logit:
		return math.Log(v / (1 - v))
	}
	return v
}

// slope returns dv/dx at the value v.
func (s scale) slope(v float64) float64 {
	switch s {
	case logarithm:
		return v
	case logit:
		return v * (1 - v)
	}
	return 1
}

// shape writes the fraction f(t+start) of the model and its derivatives by the
// fitted (transformed) parameters q: d[i·stride+j] for parameter j. If dt is not
// nil it gets df/dt. d may be nil.
func (m Model) shape(q, t []float64, start float64, f, d []float64, stride int, dt []float64) {
	switch m {
	case ModelExponential, ModelOffsetExponential:
		r := numeric.Exp(-q[0])
		for i, ti := range t {
			x := (ti + start) * r
			e := numeric.Exp(-x)
			f[i] = e
			if d != nil {
				d[i*stride] = x * e
			}
		}
	case ModelTwoExponentials:
		r1, r2, w := numeric.Exp(-q[0]), numeric.Exp(-q[1]), sigmoid(q[2])
		for i, ti := range t {
			x1, x2 := (ti+start)*r1, (ti+start)*r2
			e1, e2 := numeric.Exp(-x1), numeric.Exp(-x2)
			f[i] = w*e1 + (1-w)*e2
			if d != nil {
				d[i*stride], d[i*stride+1] = w*x1*e1, (1-w)*x2*e2
				d[i*stride+2] = w * (1 - w) * (e1 - e2)
			}
		}
	case ModelStretched:
		b := sigmoid(q[1])
		for i, ti := range t {
			s := ti + start
			if s <= 0 {
				f[i] = 1
				if d != nil {
					d[i*stride], d[i*stride+1] = 0, 0
				}
				if dt != nil {
					dt[i] = 0
				}
				continue
			}
			l := numeric.Log(s) - q[0]
			u := numeric.Exp(b * l)
			e := numeric.Exp(-u)
			f[i] = e
			if d != nil {
				d[i*stride] = b * u * e
				d[i*stride+1] = -u * l * e * b * (1 - b)
			}
			if dt != nil {
				dt[i] = -b * u * e / s
			}
		}
	case ModelPowerLaw:
		r, n := numeric.Exp(-q[0]), numeric.Exp(q[1])
		for i, ti := range t {
			x := (ti + start) * r
			l := numeric.Log1p(x)
			e := numeric.Exp(-n * l)
			f[i] = e
			if d != nil {
				d[i*stride], d[i*stride+1] = n*e*x/(1+x), -n*l*e
			}
		}
	case ModelHyperbolic:
		k := numeric.Exp(q[0])
		for i, ti := range t {
			x := (ti + start) * k
			e := 1 / (1 + x)
			f[i] = e
			if d != nil {
				d[i*stride] = -x * e * e
			}
		}
	case ModelOhmicMobility:
		r, a := numeric.Exp(-q[0]), numeric.Exp(q[1])
		for i, ti := range t {
			x := min((ti+start)*r, 300) // e^−300: nothing is left
			g := math.Expm1(x)
			e := 1 / (1 + (1+a)*g)
			f[i] = e
			if d != nil {
				d[i*stride], d[i*stride+1] = (1+a)*(g+1)*x*e*e, -a*g*e*e
			}
		}
	case ModelTransit:
		r := numeric.Exp(-q[0])
		for i, ti := range t {
			x := (ti + start) * r
			e, g, h := 1-0.5*x, 0.5*x, -0.5*r
			if x > 1 {
				e = 0.5 / x
				g, h = e, -e/(ti+start)
			}
			f[i] = e
			if d != nil {
				d[i*stride] = g
			}
			if dt != nil {
				dt[i] = h
			}
		}
	}
}

// law builds the law of the shape's values.
func (m Model) law(v []float64) (Law, error) {
	switch m {
	case ModelExponential, ModelOffsetExponential:
		return law(NewExponential(units.Time(v[0])))
	case ModelTwoExponentials:
		return law(NewExponentials([]float64{v[2], 1 - v[2]}, []units.Time{units.Time(v[0]), units.Time(v[1])}))
	case ModelStretched:
		return law(NewStretched(units.Time(v[0]), v[1]))
	case ModelPowerLaw:
		return law(NewPowerLaw(units.Time(v[0]), v[1]))
	case ModelHyperbolic:
		return law(NewHyperbolic(v[0]))
	case ModelOhmicMobility:
		return law(NewOhmicMobility(units.Time(v[0]), v[1]))
	}
	return law(NewTransit(units.Time(v[0]), 1))
}

// starts returns start values of the shape in fitted form, from the time th in
// which the readings fall by half.
func (m Model) starts(th float64) [][]float64 {
	l := math.Log(th)
	switch m {
	case ModelExponential, ModelOffsetExponential:
		return [][]float64{{l + 0.37}}
	case ModelTwoExponentials:
		return [][]float64{{l - 1, l + 2, 0}, {l + 0.3, l + 3, 1}}
	case ModelStretched:
		return [][]float64{{l + 0.5, 0.8}}
	case ModelPowerLaw:
		return [][]float64{{l, 0}}
	case ModelHyperbolic:
		return [][]float64{{-l}}
	case ModelOhmicMobility:
		return [][]float64{{l + 1, 0}}
	}
	// The kink of the transit law can hide a second minimum.
	return [][]float64{{l}, {l - 1.2}, {l + 1.2}}
}

// bounds returns the limits of shape parameter j in fitted form, for readings
// from the time first to hi, of which lo is the first that is not 0. A decay that
// had fallen to 1/150 before the first reading cannot be seen in the record.
func (m Model) bounds(j int, first, lo, hi float64) (low, high float64) {
	p := &modelInfos[m].params[j]
	least := 1e-3 * lo
	switch {
	case m == ModelStretched && p.scale == logit:
		return -3, 7 // β = 0.047 … 0.9991
	case p.scale == logit:
		return -9, 9
	case m == ModelPowerLaw && j == 1: // n
		return math.Log(0.02), math.Log(50)
	case m == ModelOhmicMobility && j == 1: // a
		return math.Log(1e-4), math.Log(1e6)
	case m == ModelHyperbolic && first > 0: // k·V0
		return -math.Log(1e6 * hi), math.Log(150 / first)
	case m == ModelHyperbolic:
		return -math.Log(1e6 * hi), math.Log(1e3 / lo)
	case first > 0 && (m == ModelExponential || m == ModelOffsetExponential || m == ModelTwoExponentials):
		least = 0.2 * first // e^5 = 148
	case first > 0 && m == ModelTransit:
		least = first / 75 // 2·75 = 150
	}
	return math.Log(least), math.Log(1e6 * hi)
}
