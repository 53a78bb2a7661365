package survey

import "example.org/pithball/line"

// sign is +1 for a change of face A and −1 for one of face B: a double layer gives
// to one what it takes from the other.
func (a *layout) sign(k int) float64 {
	if a.changes[k].Face == line.FaceB {
		return -1
	}
	return 1
}

// total is what change k is at the unknowns at, with its double layer.
func (a *layout) total(k int, at []float64) float64 {
	if i := a.layerOf[k]; i >= 0 {
		return at[k] + a.sign(k)*at[i]
	}
	return at[k]
}

// fold adds the double layers to the changes of both faces and returns x; what lies
// behind them is not touched.
func (a *layout) fold(x []float64) []float64 {
	for i, pair := range a.layers {
		x[pair[0]] += x[a.layer+i]
		x[pair[1]] -= x[a.layer+i]
	}
	return x
}

// folded is a matrix of rows of n columns, each row folded and cut to the unknowns
// that are shown.
func (m *model) folded(x []float64, rows, n int) []float64 {
	defer m.d.room.back(m.d.room.mark())
	out, row := m.lasting.take(rows*m.lay.layer), m.d.room.take(n)
	for i := range rows {
		copy(row, x[i*n:(i+1)*n])
		copy(out[i*m.lay.layer:], m.lay.fold(row)[:m.lay.layer])
	}
	return out
}
