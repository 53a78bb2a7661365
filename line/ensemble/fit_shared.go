package ensemble

// shared is what surveys with one leak time have in common: their estimates are affine in the readings,
// S = S₀ + G·y, with the same matrix and the same standard deviations.
type shared struct {
	k, rows  int
	none, sd []float64 // S₀ [C/m²] and the standard deviations [C/m²]
	gain     []float64 // [1] G by rows
}

// share finds the common part from surveys in which one reading at a time is 1 C/m² and the others are zero.
func (f *Fit) share(noise float64) *shared {
	s := &shared{f.k, f.rows, make([]float64, f.k), make([]float64, f.k), make([]float64, f.k*f.rows)}
	w, y, mean := f.newWork(), make([]float64, f.rows), make([]float64, f.k)
	w.one(s.none, s.sd, y, noise, f.leak)
	for r := range y {
		y[r] = 1
		w.one(mean, s.sd, y, noise, f.leak)
		y[r] = 0
		for c, x := range mean {
			s.gain[c*f.rows+r] = x - s.none[c]
		}
	}
	return s
}

// fit fits surveys one after another. Two rows of the matrix at a time keep the adders busy.
func (s *shared) fit(mean, sd, readings []float64) {
	n := s.rows
	for len(mean) > 0 {
		y := readings[:n]
		c := 0
		for ; c+1 < s.k; c += 2 {
			g, h := s.gain[c*n:(c+1)*n], s.gain[(c+1)*n:(c+2)*n]
			a, b := s.none[c], s.none[c+1]
			g, h = g[:len(y)], h[:len(y)]
			for r, v := range y {
				a += g[r] * v
				b += h[r] * v
			}
			mean[c], mean[c+1] = a, b
		}
		for ; c < s.k; c++ {
			a := s.none[c]
			for r, v := range y {
				a += s.gain[c*n+r] * v
			}
			mean[c] = a
		}
		copy(sd, s.sd)
		mean, sd, readings = mean[s.k:], sd[s.k:], readings[n:]
	}
}
