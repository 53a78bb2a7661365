package sheet

import (
	"errors"
	"fmt"
	"math"
	"math/bits"
	"sync"
	"sync/atomic"

	"gonum.org/v1/gonum/dsp/fourier"

	"example.org/pithball/decay/sheet/internal/fft"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// RateLaw says at which rate a charge wave decays. [Sheet] is one.
type RateLaw interface {
	// Rate returns the rate, ≥ 0 and finite, of the wave number k ≥ 0 [rad/m].
	Rate(k float64) units.Frequency
}

// RateFunc is a function as a [RateLaw].
type RateFunc func(k float64) units.Frequency // k [rad/m]

// Rate returns f(k); NaN without a function.
func (f RateFunc) Rate(k float64) units.Frequency { // k [rad/m]
	if f == nil {
		return units.Frequency(math.NaN())
	}
	return f(k)
}

// MapSpec describes a charge map on a periodic sheet.
type MapSpec struct {
	// Charge is the map at t = 0 in row-major order. It is linear: any unit that is
	// proportional to the charge density comes out again. [C/m²]
	Charge []float64
	Rows   int          // number of rows; 0 and 1 mean one row: charge that varies in one direction only
	Pixel  units.Length // distance of neighbours in a row, > 0
	Pitch  units.Length // distance of rows; 0 means Pixel
	// View is what is looked at instead of the charge: a factor on the wave of wave
	// number k [rad/m]; nil means the charge itself. See [ProbeView]. [1]
	View func(k float64) float64
	Law  RateLaw // of the sheet
}

// ProbeView returns, for [MapSpec.View], the field at the height h over a free
// sheet that the charge makes, over its value right at the sheet, e^{−kh}: what a
// probe that does not disturb the field sees of the map. h ≥ 0; anything else
// gives NaN.
func ProbeView(h units.Length) func(k float64) float64 { // k [rad/m], result [1]
	if !(h >= 0) {
		h = units.Length(math.NaN())
	}
	return func(k float64) float64 { return math.Exp(-k * float64(h)) }
}

// ChargeMap evolves a charge map on a resistive sheet,
//
//	σ_k(t) = σ_k(0) e^{−rate(k)·t}
//
// for every wave of the map, and returns the full map at any time. The sheet is
// periodic: what spreads over an edge comes in at the other, so leave room (the
// tails of a free sheet fall as 1/x²; against [LineOnFreeSheet] the middle of one
// line on the length L is off by (π²/3)(v_s t/L)²). Rounding is of the order of
// 1e-15 of the greatest value of the map at the time asked for.
//
// Lengths, or sides, that are powers of two are quick (own FFT, late maps from
// the few waves that are left, on a line at some points with a sum for those
// between); others are served by gonum's FFT. It is
// immutable and may be used by many goroutines at once; see [NewChargeMap].
type ChargeMap struct {
	n     int
	mean  float64 // [C/m²]
	line  *fft.Line
	grid  *fft.Grid
	plain *plainMap
	mu    sync.Mutex
	work  []*fft.Work // idle scratch
}

// NewChargeMap checks the spec and transforms the map, on all cores. Errors are
// [known.FieldError]s, joined: an empty map or one that does not fill its rows,
// NaN or Inf in it, a pixel that is not positive, no law, a rate that is negative,
// NaN or Inf at a wave number of the map.
func NewChargeMap(spec MapSpec) (*ChargeMap, error) {
	n, rows := len(spec.Charge), max(spec.Rows, 1)
	pitch := spec.Pitch
	if pitch == 0 {
		pitch = spec.Pixel
	}
	errs := []error{known.Positive("pixel", spec.Pixel), known.Positive("pitch", pitch)}
	if spec.Rows < 0 {
		errs = append(errs, known.Wrong("rows", spec.Rows, "0 or more"))
	}
	if n == 0 || n%rows != 0 {
		errs = append(errs, known.Wrong("charge", fmt.Sprintf("%d values", n), fmt.Sprintf("%d full rows", rows)))
	}
	if spec.Law == nil {
		errs = append(errs, known.Wrong("law", "", "a rate law, for example a Sheet"))
	}
	sum := 0.0
	for i, v := range spec.Charge {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			errs = append(errs, known.Wrong(fmt.Sprintf("charge[%d]", i), v, "a finite value"))
			break
		}
		sum += v
	}
	if err := errors.Join(errs...); err != nil {
		return nil, err
	}
	cols := n / rows
	kx := 2 * math.Pi / (float64(cols) * float64(spec.Pixel))
	ky := 2 * math.Pi / (float64(rows) * float64(pitch))
	var fault atomic.Pointer[known.FieldError]
	rate := func(x, y int) float64 {
		k := kx * float64(x)
		if y > 0 {
			k = math.Sqrt(k*k + ky*float64(y)*(ky*float64(y)))
		}
		r := float64(spec.Law.Rate(k))
		if !(r >= 0) || math.IsInf(r, 1) {
			fault.CompareAndSwap(nil, &known.FieldError{Field: "law", Value: fmt.Sprintf("%g 1/s at k = %g rad/m", r, k),
				Want: "a finite rate of 0 or more"})
			return 0
		}
		return r
	}
	gain := func(x, y int) float64 {
		k := math.Hypot(kx*float64(x), ky*float64(y))
		g := spec.View(k)
		if math.IsNaN(g) || math.IsInf(g, 0) {
			fault.CompareAndSwap(nil, &known.FieldError{Field: "view", Value: fmt.Sprintf("%g at k = %g rad/m", g, k),
				Want: "a finite factor"})
			return 0
		}
		return g
	}
	m := &ChargeMap{n: n, mean: sum / float64(n)}
	var lineGain func(int) float64
	gridGain := gain
	if spec.View == nil {
		gridGain = nil
	} else {
		lineGain = func(q int) float64 { return gain(q, 0) }
	}
	pow2 := func(v, least int) bool { return v >= least && bits.OnesCount(uint(v)) == 1 }
	switch {
	case rows == 1 && pow2(n, fft.MinLine):
		m.line = fft.NewLine(spec.Charge, func(q int) float64 { return rate(q, 0) }, lineGain)
	case pow2(rows, fft.MinGrid) && pow2(cols, fft.MinGrid):
		m.grid = fft.NewGrid(spec.Charge, rows, cols, rate, gridGain)
	default:
		m.plain = newPlainMap(spec.Charge, rows, cols, rate, gridGain)
	}
	if f := fault.Load(); f != nil {
		return nil, f
	}
	return m, nil
}

// Len returns the number of values of the map.
func (m *ChargeMap) Len() int { return m.n }

// Mean returns the mean of the map at t = 0, which stays on a free sheet. [C/m²]
func (m *ChargeMap) Mean() float64 { // [C/m²]
	if m.n == 0 {
		return math.NaN()
	}
	return m.mean
}

// MapTo sets dst, of length Len, to the map at t ≥ 0. A wrong length is an error
// and leaves dst alone; t < 0, NaN and Inf are an error and set dst to NaN. After
// the first calls it does not allocate.
func (m *ChargeMap) MapTo(dst []float64, t units.Time) error { // dst [C/m²]
	if m.n == 0 {
		return known.Wrong("map", "the zero ChargeMap", "one made by NewChargeMap")
	}
	if len(dst) != m.n {
		return known.Wrong("dst", fmt.Sprintf("%d values", len(dst)), fmt.Sprintf("%d, as the map", m.n))
	}
	if err := known.NotNegative("t", t); err != nil {
		for i := range dst {
			dst[i] = math.NaN()
		}
		return err
	}
	if m.plain != nil {
		m.plain.mapTo(dst, float64(t))
		return nil
	}
	w := m.take()
	if m.line != nil {
		m.line.MapTo(dst, float64(t), w)
	} else {
		m.grid.MapTo(dst, float64(t), w)
	}
	m.mu.Lock()
	m.work = append(m.work, w)
	m.mu.Unlock()
	return nil
}

func (m *ChargeMap) take() *fft.Work {
	m.mu.Lock()
	if n := len(m.work); n > 0 {
		w := m.work[n-1]
		m.work = m.work[:n-1]
		m.mu.Unlock()
		return w
	}
	m.mu.Unlock()
	if m.line != nil {
		return m.line.NewWork()
	}
	return m.grid.NewWork()
}

// plainMap is the same by gonum's FFT, for sides of any length.
type plainMap struct {
	rows, cols int
	spec       []complex128 // rows × (cols/2+1), over rows·cols
	rate       []float64    // the same
	pool       sync.Pool    // of *plainWork
}

type plainWork struct {
	row *fourier.FFT
	col *fourier.CmplxFFT
	mid []complex128
	buf []complex128
}

func (p *plainMap) newWork() *plainWork {
	return &plainWork{row: fourier.NewFFT(p.cols), col: fourier.NewCmplxFFT(p.rows),
		mid: make([]complex128, p.rows*(p.cols/2+1)), buf: make([]complex128, p.rows)}
}

func newPlainMap(v []float64, rows, cols int, rate, gain func(x, y int) float64) *plainMap {
	w := cols/2 + 1
	p := &plainMap{rows: rows, cols: cols, spec: make([]complex128, rows*w), rate: make([]float64, rows*w)}
	k := p.newWork()
	for r := range rows {
		k.row.Coefficients(p.spec[r*w:(r+1)*w], v[r*cols:(r+1)*cols])
	}
	for x := range w {
		for r := range rows {
			k.buf[r] = p.spec[r*w+x]
		}
		k.col.Coefficients(k.buf, k.buf)
		for r := range rows {
			y := min(r, rows-r)
			g := 1 / float64(rows*cols)
			if gain != nil {
				g *= gain(x, y)
			}
			p.spec[r*w+x] = complex(real(k.buf[r])*g, imag(k.buf[r])*g)
			p.rate[r*w+x] = rate(x, y)
		}
	}
	p.pool.Put(k)
	return p
}

func (p *plainMap) mapTo(dst []float64, t float64) {
	k, _ := p.pool.Get().(*plainWork)
	if k == nil {
		k = p.newWork()
	}
	w := p.cols/2 + 1
	for i, z := range p.spec {
		e := math.Exp(-p.rate[i] * t)
		k.mid[i] = complex(real(z)*e, imag(z)*e)
	}
	if p.rows > 1 {
		for x := range w {
			for r := range p.rows {
				k.buf[r] = k.mid[r*w+x]
			}
			k.col.Sequence(k.buf, k.buf)
			for r := range p.rows {
				k.mid[r*w+x] = k.buf[r]
			}
		}
	}
	for r := range p.rows {
		k.row.Sequence(dst[r*p.cols:(r+1)*p.cols], k.mid[r*w:(r+1)*w])
	}
	p.pool.Put(k)
}
