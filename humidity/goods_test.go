package humidity

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func paperGoods(t *testing.T, s GoodsSpec) Goods {
	t.Helper()
	m, err := MaterialFor("paper-bond")
	if err != nil {
		t.Fatal(err)
	}
	s.Material = m
	g, err := NewGoods(s)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// TestDepthByHand: 20 mm under an open face half of a change has passed when
// erfc(x/(2√(Dt))) = 1/2: 1.2212 h at 1e-7 m²/s, 5.088 d at 1e-9; the middle of a
// slab of 1 m has made 90 % in 29.835 d (first term of the series).
func TestDepthByHand(t *testing.T) {
	depth := 20 * units.Millimetre
	half := units.Ratio(0.5)
	for _, c := range []struct{ d, want float64 }{{1e-7, 1.22117 * 3600}, {1e-9, 5.08821 * 86400}} {
		b, err := NewSheet(1*units.Metre, units.Diffusivity(c.d), true)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "20 mm", float64(b.DepthTimeTo(half, depth))/c.want, 1, 1e-4)
		near(t, "there and back", float64(b.AtDepth(b.DepthTimeTo(half, depth), depth)), 0.5, 1e-9)
	}
	b, _ := NewSheet(1*units.Metre, units.Diffusivity(1e-7), true)
	near(t, "core", float64(b.CentreTimeTo(units.Ratio(0.9)))/86400, 29.8352, 0.001)
	near(t, "the depth of the middle", float64(b.AtDepth(1e6, 0.5*units.Metre)), float64(b.Centre(1e6)), 1e-12)
	if !math.IsNaN(float64(b.AtDepth(1e6, 0.6*units.Metre))) || !math.IsNaN(float64(b.AtDepth(1e6, -1))) {
		t.Error("a depth outside has a share")
	}
}

// TestGoodsAgainstDifferences warms a pile by explicit differences in three
// dimensions, with the film at five faces and the bottom closed, and compares the
// times of core and face with the product of series.
func TestGoodsAgainstDifferences(t *testing.T) {
	g := paperGoods(t, GoodsSpec{Length: 1.02, Width: 0.72, Height: 1.0, BottomClosed: true})
	hall, err := NewAir(units.Celsius(23), rh(50), units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	start := units.Celsius(8)
	w, err := g.Warm(hall, start)
	if err != nil {
		t.Fatal(err)
	}
	heat := g.s.Material.Heat
	const nx, ny, nz = 17, 12, 33
	lx, ly, lz := 0.51, 0.36, 1.0 // one quarter, from the axis to the faces
	hx, hy, hz := lx/nx, ly/ny, lz/nz
	u := make([]float64, nx*ny*nz) // share passed
	v := make([]float64, len(u))
	at := func(i, j, k int) int { return (i*ny+j)*nz + k }
	// Flux through a face: film and half a cell in series. [W/(m²·K)]
	film := func(k, h float64) float64 { return 1 / (1/stillAir + h/2/k) }
	c := heat.Capacity
	kx, ky, kz := heat.Along/(c*hx*hx), heat.Along/(c*hy*hy), heat.Across/(c*hz*hz)
	fx, fy, fz := film(heat.Along, hx)/(c*hx), film(heat.Along, hy)/(c*hy), film(heat.Across, hz)/(c*hz)
	dt := 0.9 / (2 * (kx + ky + kz))
	cp := float64(hall.CondensationPoint()-start) / 15
	near1 := 1 - 1.0/15
	type mark struct{ dew, hall float64 }
	var core, top mark
	pass := func(m *mark, x, t float64) {
		if m.dew == 0 && x >= cp {
			m.dew = t
		}
		if m.hall == 0 && x >= near1 {
			m.hall = t
		}
	}
	for now := 0.0; core.hall == 0 && now < 4e6; now += dt {
		for i := range nx {
			for j := range ny {
				for k := range nz {
					x := u[at(i, j, k)]
					sum := 0.0
					flow := func(ii, jj, kk int, rate float64) { sum += rate * (u[at(ii, jj, kk)] - x) }
					if i > 0 {
						flow(i-1, j, k, kx)
					}
					if j > 0 {
						flow(i, j-1, k, ky)
					}
					if k > 0 {
						flow(i, j, k-1, kz)
					}
					if i < nx-1 {
						flow(i+1, j, k, kx)
					} else {
						sum += fx * (1 - x)
					}
					if j < ny-1 {
						flow(i, j+1, k, ky)
					} else {
						sum += fy * (1 - x)
					}
					if k < nz-1 {
						flow(i, j, k+1, kz)
					} else {
						sum += fz * (1 - x)
					}
					v[at(i, j, k)] = x + dt*sum
				}
			}
		}
		u, v = v, u
		pass(&core, u[at(0, 0, 0)], now+dt)
		// From the middle of the last cell to its face the film leaves k/(k + h·half a
		// cell) of the difference. The face that lags most counts.
		face := func(cell, k, h float64) float64 { return 1 - (1-cell)*k/(k+stillAir*h/2) }
		pass(&top, min(face(u[at(nx-1, 0, 0)], heat.Along, hx), face(u[at(0, ny-1, 0)], heat.Along, hy),
			face(u[at(0, 0, nz-1)], heat.Across, hz)), now+dt)
	}
	near(t, "core, dew, h", core.dew/w.Core.Dew.Value, 1, 0.02)
	near(t, "core, hall, h", core.hall/w.Core.Hall.Value, 1, 0.02)
	near(t, "face, hall, h", top.hall/w.Face.Hall.Value, 1, 0.03)
	t.Logf("core: dew %.1f h, hall %.1f h; face: dew %.2f h, hall %.1f h (differences %.1f, %.1f, %.2f, %.1f)",
		w.Core.Dew.Value/3600,
		w.Core.Hall.Value/3600, w.Face.Dew.Value/3600, w.Face.Hall.Value/3600, core.dew/3600, core.hall/3600, top.dew/3600,
		top.hall/3600)
	if !w.Condenses || w.Validity&known.Unpublished == 0 || !(w.Face.Dew.Value < 0.02*w.Core.Dew.Value) {
		t.Error(w)
	}
}

func TestGoodsEnds(t *testing.T) {
	hall, err := NewAir(units.Celsius(23), rh(50), units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	pile := paperGoods(t, GoodsSpec{Length: 1, Width: 0.7, Height: 0.8})
	roll := paperGoods(t, GoodsSpec{Diameter: 1, Width: 1.2})
	// Warmer than the dew point of 12 °C: nothing condenses, the hall still takes time.
	for _, g := range []Goods{pile, roll} {
		w, err := g.Warm(hall, units.Celsius(15))
		if err != nil || w.Condenses || w.Core.Dew != (known.Band{}) || !(w.Core.Hall.Value > w.Face.Hall.Value) {
			t.Error(w, err)
		}
		// As warm as the hall: nothing to wait for.
		if w, err := g.Warm(hall, units.Celsius(23.5)); err != nil || w.Core.Hall.Value != 0 || w.Condenses {
			t.Error(w, err)
		}
		c, err := g.Condition(units.Ratio(0.5))
		if err != nil || !(c.Rim.Value < c.Mean.Value && c.Mean.Value < c.Core.Value) || c.Validity&known.Unpublished == 0 {
			t.Error(c, err)
		}
	}
	// Steam in the hall: the pile is never clear of dew.
	wet, err := NewAir(units.Celsius(23), rh(100), units.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	if w, err := pile.Warm(wet, units.Celsius(5)); err != nil || !math.IsInf(w.Core.Dew.Value, 1) {
		t.Error(w, err)
	}
	// More wind warms faster, a closed bottom slower.
	draught := paperGoods(t, GoodsSpec{Length: 1, Width: 0.7, Height: 0.8, Film: 30})
	closed := paperGoods(t, GoodsSpec{Length: 1, Width: 0.7, Height: 0.8, BottomClosed: true})
	hours := func(g Goods) float64 {
		w, err := g.Warm(hall, units.Celsius(5))
		if err != nil {
			t.Fatal(err)
		}
		return w.Core.Hall.Value / 3600
	}
	if !(hours(draught) < hours(pile) && hours(pile) < hours(closed)) {
		t.Error(hours(draught), hours(pile), hours(closed))
	}
	steel, _ := NewGoods(GoodsSpec{Material: Material{Name: "steel"}, Length: 1, Width: 1, Height: 1})
	wrapped := paperGoods(t, GoodsSpec{Length: 1, Width: 0.7, Height: 0.8, Wrapped: true})
	_, e1 := NewGoods(GoodsSpec{})
	_, e2 := NewGoods(GoodsSpec{Diameter: 1, Width: 1, Length: 1, BottomClosed: true, Film: 1000})
	_, e3 := steel.Warm(hall, units.Celsius(5))
	_, e4 := steel.Condition(units.Ratio(0.5))
	_, e5 := wrapped.Condition(units.Ratio(0.5))
	_, e6 := Goods{}.Warm(Air{}, units.Celsius(-100))
	_, e7 := pile.Condition(units.Ratio(1))
	for i, c := range []struct {
		err   error
		field string
	}{{e1, "Width"}, {e2, "length"}, {e3, "material.heat"}, {e4, "material.diffusion"}, {e5, "wrapped"}, {e6, "goods"},
		{e7, "share"}} {
		var f *known.FieldError
		if !errors.As(c.err, &f) || f.Field != c.field {
			t.Errorf("%d: %v, want an error for %s", i+1, c.err, c.field)
		}
	}
}
