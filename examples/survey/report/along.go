package report

// labels are the names of stations along an axis in metres: each at its place, or
// beside it where places lie too close to write their names; a thin line leads from
// the name to the place.
type labels struct {
	at, name []float64 // [m] the place, and where its name stands
	text     []string
	min, max float64 // [m] of the axis
}

func newLabels(rows []stationRow, span float64) *labels {
	l := &labels{}
	least := span / 30 // room of one slanted name
	if n := len(rows); n > 1 {
		least = min(least, span/float64(n-1)) // many stations: evenly at the closest
	}
	for _, s := range rows {
		l.at = append(l.at, float64(s.At))
		l.text = append(l.text, s.Name)
	}
	l.name = spread(l.at, least)
	l.min, l.max = min(l.name[0], l.at[0])-span/40, max(l.name[len(l.name)-1], l.at[len(l.at)-1])+span/40
	return l
}

// spread moves places, which rise, apart to a least distance, each as little as its
// neighbours allow: groups of names that touch are centred over their places.
func spread(at []float64, least float64) []float64 {
	type group struct {
		sum float64 // of at[i] − i·least over its members
		n   int
	}
	var groups []group
	for i, x := range at {
		groups = append(groups, group{x - float64(i)*least, 1})
		for len(groups) > 1 {
			a, b := groups[len(groups)-2], groups[len(groups)-1]
			if a.sum/float64(a.n) <= b.sum/float64(b.n) {
				break
			}
			groups = append(groups[:len(groups)-2], group{a.sum + b.sum, a.n + b.n})
		}
	}
	out := make([]float64, 0, len(at))
	for _, g := range groups {
		for range g.n {
			out = append(out, g.sum/float64(g.n)+float64(len(out))*least)
		}
	}
	return out
}
