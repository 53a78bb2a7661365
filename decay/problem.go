package decay

import (
	"example.org/pithball/internal/numeric"
)

// problem is the least-squares problem of one model on readings with noise. The
// fitted parameters are V0/unit, the shape, then Vb/unit and ln(start) if asked
// for.
type problem struct {
	model         Model
	t, v          []float64 // [s], [V/unit]
	noise         noise
	w             []float64 // fixed weights [1/sd]; nil: those of the law, by the quasi-deviance
	flat          []float64 // fixed weights 1/a where the noise does not depend on the voltage
	offset, start bool
	n, k, m       int // readings, shape parameters, all parameters
	f, d, dt      []float64
	inverse       []float64 // 1/sd(model) after pearson
}

var _ numeric.Residuals = (*problem)(nil)

func (p *problem) init(m Model, offset, start bool) {
	p.model = m
	p.k = len(modelInfos[m].params)
	p.offset = offset || m == ModelOffsetExponential
	p.start = start && modelInfos[m].aged
	p.n, p.m = len(p.t), 1+p.k
	if p.offset {
		p.m++
	}
	if p.start {
		p.m++
	}
	if cap(p.f) < p.n {
		p.f, p.dt, p.inverse = make([]float64, p.n), make([]float64, p.n), make([]float64, p.n)
	}
	if cap(p.d) < p.n*4 {
		p.d = make([]float64, p.n*4)
	}
	p.f, p.dt, p.inverse = p.f[:p.n], p.dt[:p.n], p.inverse[:p.n]
}

// linear returns the start time, Vb and the amplitude of what decays.
func (p *problem) linear(x []float64) (start, vb, amp float64) {
	if p.start {
		start = numeric.Exp(x[p.m-1])
	}
	if p.offset {
		vb = x[1+p.k]
	}
	amp = x[0]
	// The offset exponential is written with V0 as the whole start value.
	if p.model == ModelOffsetExponential {
		amp -= vb
	}
	return start, vb, amp
}

// gradient writes the derivatives of the model at reading i by the parameters,
// times w, after shape has filled f, d and dt.
func (p *problem) gradient(row []float64, i int, w, amp, start float64) {
	f := p.f[i]
	row[0] = w * f
	for j := range p.k {
		row[1+j] = w * amp * p.d[i*p.k+j]
	}
	if p.offset {
		row[1+p.k] = w
		if p.model == ModelOffsetExponential {
			row[1+p.k] = w * (1 - f)
		}
	}
	if p.start {
		row[p.m-1] = w * amp * p.dt[i] * start
	}
}

// Eval implements numeric.Residuals: r = w·(model − v) for fixed weights, else
// the signed root of the quasi-deviance.
func (p *problem) Eval(r, jac, x []float64) {
	start, vb, amp := p.linear(x)
	var d, dt []float64
	if jac != nil {
		d = p.d
		if p.start {
			dt = p.dt
		}
	}
	p.model.shape(x[1:1+p.k], p.t, start, p.f, d, p.k, dt)
	for i, f := range p.f {
		m := amp*f + vb
		var w float64
		if p.w != nil {
			w = p.w[i]
			r[i] = w * (m - p.v[i])
		} else {
			r[i], w = p.noise.deviance(m, p.v[i])
		}
		if jac != nil {
			p.gradient(jac[i*p.m:i*p.m+p.m], i, w, amp, start)
		}
	}
}

// pearson writes (model − v)/sd(model) into r and 1/sd(model) into inverse.
func (p *problem) pearson(r, x []float64) {
	start, vb, amp := p.linear(x)
	p.model.shape(x[1:1+p.k], p.t, start, p.f, nil, 0, nil)
	for i, f := range p.f {
		m := amp*f + vb
		p.inverse[i] = 1 / p.noise.sd(m)
		r[i] = (m - p.v[i]) * p.inverse[i]
	}
}

// jacobian writes the derivatives of the model over sd(model) at x, row by row,
// and the model itself.
func (p *problem) jacobian(jac, model, x []float64) {
	start, vb, amp := p.linear(x)
	p.model.shape(x[1:1+p.k], p.t, start, p.f, p.d, p.k, p.dt)
	for i, f := range p.f {
		model[i] = amp*f + vb
		p.gradient(jac[i*p.m:i*p.m+p.m], i, 1/p.noise.sd(model[i]), amp, start)
	}
}

// at returns the model at the time t and writes its derivatives by the
// parameters into row.
func (p *problem) at(row, x []float64, t float64) float64 {
	start, vb, amp := p.linear(x)
	var f, dt [1]float64
	var d [4]float64
	p.model.shape(x[1:1+p.k], []float64{t}, start, f[:], d[:], p.k, dt[:])
	one := problem{model: p.model, f: f[:], d: d[:], dt: dt[:], k: p.k, m: p.m, offset: p.offset, start: p.start}
	one.gradient(row, 0, 1, amp, start)
	return amp*f[0] + vb
}

// amplitudes solves for the linear parameters V0 and Vb at the shape in x by
// least squares with the weights w.
func (p *problem) amplitudes(x, w []float64) {
	start := 0.0
	if p.start {
		start = numeric.Exp(x[p.m-1])
	}
	p.model.shape(x[1:1+p.k], p.t, start, p.f, nil, 0, nil)
	var sff, sf, s, sfv, sv float64
	for i, f := range p.f {
		w := w[i] * w[i]
		sff += w * f * f
		sf += w * f
		s += w
		sfv += w * f * p.v[i]
		sv += w * p.v[i]
	}
	if !p.offset {
		x[0] = sfv / sff
		return
	}
	det := sff*s - sf*sf
	if !(det > 1e-12*sff*s) {
		x[0], x[1+p.k] = sfv/sff, 0
		return
	}
	amp, vb := (sfv*s-sf*sv)/det, (sff*sv-sf*sfv)/det
	x[1+p.k] = vb
	x[0] = amp
	if p.model == ModelOffsetExponential {
		x[0] += vb
	}
}
