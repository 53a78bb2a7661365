package ioniser

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/units"
)

// A drawnBar is a blown bar whose polarities are alike, with a web before it.
type drawnBar struct {
	spec  Spec
	gap   units.Length
	net   units.SurfaceChargeDensity
	speed units.Speed
}

// drawBar draws what the package documentation states, everything even in the logarithm.
func drawBar(t *testing.T, r *rand.Rand) drawnBar {
	mu, w := units.Mobility(logBetween(r, 1e-4, 2e-4)), logBetween(r, 5e-4, 5e-3)
	s := Spec{Emitter: emitter(t, ionflow.EmitterSpec{Current: units.LineCurrent(logBetween(r, 1e-5, 1e-3))}),
		Ions: ionflow.Ions{Plus: mu, Minus: mu, Alpha: units.RecombinationCoefficient(logBetween(r, 1e-13, 4e-12))},
		Air: BlownAir{Stream: Plume{Speed: units.Speed(logBetween(r, 0.5, 300)), Width: units.Length(w),
			Core: units.Length(6.3 * w), Row: r.IntN(2) == 1}, At: 100, Captured: logBetween(r, 0.01, 0.8),
			Contact: units.Length(logBetween(r, 0.02, 0.5))},
		Distance: units.Length(logBetween(r, 0.01, 0.6))}
	return drawnBar{s, units.Length(logBetween(r, 0.02, 1)), units.SurfaceChargeDensity(logBetween(r, 5e-8, 2e-5)),
		units.Speed(logBetween(r, 0.1, 20))}
}

// inDoc holds lines of a table to a file of the package.
func inDoc(t *testing.T, file string, lines ...string) {
	t.Helper()
	b, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		if !strings.Contains(string(b), l) {
			t.Errorf("%s has not %q", file, l)
		}
	}
}

// TestFiguresOfChanges makes the table of the package documentation of what a change does to the current.
func TestFiguresOfChanges(t *testing.T) {
	if testing.Short() {
		t.Skip("a thousand bars ten times")
	}
	changes := []struct {
		what   string
		change func(*Spec)
	}{
		{"twice the emission", func(s *Spec) {
			e := s.Emitter.Spec()
			e.Current *= 2
			s.Emitter = emitter(t, e)
		}},
		{"5/6 of the distance", func(s *Spec) { s.Distance *= 5. / 6 }},
		{"half the recombination", func(s *Spec) { s.Ions.Alpha /= 2 }},
		{"20 % more contact", func(s *Spec) { s.Air.Contact *= 1.2 }},
		{"20 % faster air", func(s *Spec) {
			p := s.Air.Stream.(Plume)
			p.Speed *= 1.2
			s.Air.Stream = p
		}},
		{"20 % more captured", func(s *Spec) { s.Air.Captured *= 1.2 }},
		{"20 % more mobility", func(s *Spec) { s.Ions.Plus, s.Ions.Minus = s.Ions.Plus*1.2, s.Ions.Minus*1.2 }},
		{"20 % less mobility", func(s *Spec) { s.Ions.Plus, s.Ions.Minus = s.Ions.Plus*0.8, s.Ions.Minus*0.8 }},
		{"40 % more recombination", func(s *Spec) { s.Ions.Alpha *= 1.4 }},
		{"40 % less recombination", func(s *Spec) { s.Ions.Alpha *= 0.6 }},
	}
	r := rand.New(rand.NewPCG(20, 27))
	got := make([][]float64, len(changes))
	fell := make([]int, len(changes))
	slots := 0
	for range 1000 {
		b := drawBar(t, r)
		before := float64(at(t, b.spec, b.gap).Current(b.net))
		for k, c := range changes {
			s := b.spec
			c.change(&s)
			x := float64(at(t, s, b.gap).Current(b.net)) / before
			got[k] = append(got[k], x)
			if x < 0.97 {
				if fell[k]++; k < 3 && !s.Air.Stream.(Plume).Row {
					slots++
				}
			}
		}
	}
	if misses := fell[0] + fell[1] + fell[2]; misses != 4 || slots != 1 {
		t.Errorf("%d of the first three fell, %d of them slots: the documentation says four and one", misses, slots)
	}
	for k, c := range changes {
		v := got[k]
		slices.Sort(v)
		at := func(p float64) float64 { return v[int(math.Round(p*float64(len(v)-1)))] }
		inDoc(t, "doc.go", fmt.Sprintf("//\t%-24s %.2f  %.2f  %.2f  %.2f  %.2f  %4d\n", c.what, at(0), at(0.05), at(0.5),
			at(0.95),
			at(1), fell[k]))
	}
}

// TestFiguresOfNodes holds what the comment of curveNodes says of its number: the residual by the stream alone of a
// curve of 360 nodes, integrated in full, over that of a place.
func TestFiguresOfNodes(t *testing.T) {
	n := 400
	if testing.Short() {
		n = 40
	}
	r := rand.New(rand.NewPCG(20, 28))
	var off []float64
	for range n {
		b := drawBar(t, r)
		z, i := finely(b, 360)
		left, low := float64(b.net), 1e-4*float64(b.net)
		spend := since(z, i, left) - 1/float64(b.speed)
		if since(z, i, low) > spend {
			continue // next to nothing is left
		}
		for range 60 {
			if m := math.Sqrt(low * left); since(z, i, m) > spend {
				left = m
			} else {
				low = m
			}
		}
		alone, _ := at(t, b.spec, b.gap).Bracket(b.net, b.speed)
		off = append(off, float64(alone.Left)/left-1)
	}
	slices.Sort(off)
	m := len(off)
	least, most, five, rest := off[0], off[m-1], off[m/20], off[m-1-m/20]
	t.Logf("%d: %.3f %.3f … %.3f %.3f", m, least, five, rest, most)
	if !(least >= -0.205 && most <= 0.105) || !testing.Short() && (!(least <= -0.195) || !(most >= 0.095) ||
		!(max(-five, rest) <= 0.03) || !(max(-five, rest) >= 0.015)) {
		t.Errorf("%d passes off by %.3f to %.3f, 90 %% within %.3f … %.3f: the comment says −20 … +10 %% and 3 %%", m, least,
			most, five, rest)
	}
}

// finely is the curve of the stream alone on n nodes: charge and current.
func finely(b drawnBar, n int) (z, i []float64) {
	s := b.spec
	c := newColumn(s.Air.Stream, float64(s.Distance), float64(s.Air.Contact),
		float64(s.Air.Stream.Breadth(s.Distance))+fan*float64(s.Distance))
	g := float64(s.Emitter.Spec().Current) / elementary
	m, q := mouth{g, g, s.Air.returnSpeed()}, carriers{float64(s.Ions.Minus), float64(s.Ions.Plus), float64(s.Ions.Alpha)}
	low := n * 4 / 5
	for k := range n {
		share := 1e-9 * math.Pow(0.9e9, float64(k)/float64(low-1))
		if k >= low {
			share = 1 - 0.1*math.Pow(1e-7, float64(k-low+1)/float64(n-low))
		}
		a := c.march(&m, &q, share*g)
		current, _, _ := c.turned(&q, share*g, &a)
		x := eps0 * (a.field + a.voltage/float64(b.gap))
		if x > 0 && current > 0 && (len(z) == 0 || x > z[len(z)-1]*(1+1e-12)) {
			z, i = append(z, x), append(i, min(current, g*elementary))
		}
	}
	for k := len(i) - 2; k >= 0; k-- {
		i[k] = min(i[k], i[k+1])
	}
	return z, i
}

// since integrates dz/I from the first node to x: the current is in proportion below it, a power between nodes and
// constant above the last.
func since(z, i []float64, x float64) float64 {
	if x < z[0] {
		return math.Log(x/z[0]) * z[0] / i[0]
	}
	t := 0.0
	for k := range z {
		if k == len(z)-1 {
			return t + (x-z[k])/i[k]
		}
		a := 1 - math.Log(i[k+1]/i[k])/math.Log(z[k+1]/z[k])
		to := min(x, z[k+1])
		part := math.Log(to / z[k])
		if math.Abs(a) > 1e-9 {
			part = (math.Pow(to/z[k], a) - 1) / a
		}
		if t += part * z[k] / i[k]; x <= z[k+1] {
			break
		}
	}
	return t
}

// TestFiguresOfPanels: panels of even length, over those that are finest at the mouth, in the draws of the error map.
func TestFiguresOfPanels(t *testing.T) {
	r := rand.New(rand.NewPCG(20, 26))
	worst := 1.0
	for range 400 {
		x := drawOne(r)
		c := newColumn(x.s, x.d, 0, x.wide)
		even := c
		for k := range panels {
			to := units.Length(x.d * float64(k+1) / panels)
			mid := to - units.Length(x.d/panels/2)
			even.dx[k] = x.d / panels
			even.uEnd[k], even.uMid[k] = float64(x.s.MeanSpeed(to)), float64(x.s.MeanSpeed(mid))
			even.bMid[k] = float64(x.s.Breadth(mid))
			even.wide[k] = max(even.bMid[k], x.wide)
		}
		m := mouth{x.g, x.g, x.w}
		ratio := even.deliver(&m, &x.q, false, x.net, 1/x.gap) / c.deliver(&m, &x.q, false, x.net, 1/x.gap)
		worst = max(worst, ratio, 1/ratio)
	}
	if !(worst > 1.02 && worst <= 1.045) {
		t.Errorf("even panels differ by a factor of %.3f: the comment says 4 %%", worst)
	}
}

// TestFiguresOfTheTurn: of like ions that age over the whole way instead of the last 15 % of it there are left
// (1 + 0.15·x·L)/(1 + x·L), x = n·α·d/u and L = ln(1 + u/(μF)): by hand 1/2.3 for x = 0.2 and L = 10.
func TestFiguresOfTheTurn(t *testing.T) {
	const u, b, d, mu, alpha = 10.0, 0.01, 0.1, 1.5e-4, 1.6e-12
	q := carriers{mu, mu, alpha}
	c := newColumn(flat(u, b), d, 0.05, 0.05)
	f := u / mu / (math.Exp(10) - 1)
	n := 0.2 * u / (alpha * d)
	like := n * b * (u + mu*f)
	_, left, _ := c.turned(&q, 0, &arrival{field: f, like: like})
	near(t, "left of the like ions", left/like, 1/(1+0.15*0.2*10), 1e-9)
	near(t, "over the whole way", left/like*(1+0.2*10), 2.3, 0.01)
}

// TestFiguresOfPlanes holds what the package documentation says of the lines of its planar table: what a bar draws in
// the reference over what the model says.
func TestFiguresOfPlanes(t *testing.T) {
	least, most := map[string]float64{}, map[string]float64{}
	note := func(class string, x float64) {
		if old, ok := least[class]; !ok || x < old {
			least[class] = x
		}
		most[class] = max(most[class], x)
	}
	for _, c := range readPlanar(t).Currents {
		p := planar(t, c.Distance, c.Air)
		x := c.Fine / (float64(p.Current(units.SurfaceChargeDensity(c.Net))) * 1e6)
		class := c.Front
		if c.Front != "body" {
			class += fmt.Sprint(c.Air > 0)
		}
		note(class, x)
	}
	for _, c := range readPlanar(t).Passes { // what factor leaves what the reference leaves
		if c.Air > 0 || c.Distance > 0.05 {
			continue
		}
		net := units.SurfaceChargeDensity(c.Net)
		f, err := planar(t, c.Distance, c.Air).Fit(net, net*units.SurfaceChargeDensity(c.Left), units.Speed(c.Speed))
		if err != nil {
			t.Fatal(err)
		}
		note("pass", f.Factor())
	}
	for class, want := range map[string]string{"body": "2 … 4", "planetrue": "1.2 … 1.5", "planefalse": "0.5 … 0.7",
		"pass": "5 … 8"} {
		got := fmt.Sprintf("%.1f … %.1f", least[class], most[class])
		if class == "body" || class == "pass" {
			got = fmt.Sprintf("%.0f … %.0f", least[class], most[class])
		}
		if got != want {
			t.Errorf("%s: %s, the documentation says %s", class, got, want)
		}
	}
}
