package survey

import (
	"math"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/line"
	"example.org/pithball/units"
)

// GroundLimit is the resistance to earth up to which a conductor is taken as
// earthed for static electricity, as common practice has it (check the
// guidance that binds you): the reason is that 0.1 mA, more than an industrial
// charging current, makes 100 V across it.
const GroundLimit = 1 * units.Megohm

// GroundFinding is what the ground check says of one conductor.
type GroundFinding struct {
	Station    int              // index of the station
	Measured   bool             // whether the survey has its resistance to earth
	Resistance units.Resistance // the greatest measured
	AtLeast    bool             // the ohmmeter ran out of its range there
	Isolated   bool             // above GroundLimit
}

// ground lists every conductive roller: measured and earthed, measured and not
// earthed, or not measured. A survey that leaves one out has not finished its
// ground check.
func (d *Diagnosis) ground() []GroundFinding {
	var out []GroundFinding
	for i := range d.desc.Stations {
		st := &d.desc.Stations[i]
		if st.Roller != nil && st.Roller.Kind == line.BareMetal {
			out = append(out, GroundFinding{Station: i})
		}
	}
	for i := range d.survey.Readings {
		r := &d.survey.Readings[i]
		if r.Quantity != line.EarthResistance {
			continue
		}
		st := d.line.Station(r.Station)
		if st < 0 {
			continue // told with the other faults of the rows
		}
		k := -1
		for j := range out {
			if out[j].Station == st {
				k = j
			}
		}
		if k < 0 {
			out = append(out, GroundFinding{Station: st})
			k = len(out) - 1
		}
		g := &out[k]
		g.Measured = true
		if v := units.Resistance(r.Value); v >= g.Resistance {
			g.Resistance, g.AtLeast = v, r.AtLeast
		}
		g.Isolated = g.Resistance > GroundLimit || g.AtLeast && g.Resistance >= GroundLimit
	}
	return out
}

// Winding returns after how many wraps the field at the surface of the roll
// reaches the breakdown of the air, by the net charge that arrives at the winder;
// ok is false where it never does, as on a core with earthed metal inside. The
// earthed surroundings are taken at 2 m.
func (d *Diagnosis) Winding() (wraps int, ok bool) {
	if d.none() {
		return 0, false
	}
	n := d.line.Len() - 1
	s := &d.desc.Stations[n]
	st := d.States[n]
	r, err := d.desc.Wound(units.SurfaceChargeDensity(st.A.Value), units.SurfaceChargeDensity(st.B.Value), s.Earthed)
	if err != nil {
		return 0, false
	}
	return r.WrapsTo(units.ElectricField(float64(d.line.NetCap()) / units.Epsilon0))
}

// IsolatedState is what an isolated roller charges to.
type IsolatedState struct {
	Finding GroundFinding // of the roller
	// Current is the charging current: the magnitude of the change of charge times
	// speed and width; the voltage and energy follow from it, at the middle and at
	// the 95 % end of the estimate.
	Current, High        units.Current
	Voltage, HighVoltage units.Voltage // limited by the sparkover voltage where one is given
	Energy               units.Energy  // ½CV² at HighVoltage
	Sparks               bool          // whether HighVoltage reaches the sparkover voltage
}

// Isolated returns what the isolated roller of a ground finding charges to, from
// the change that the diagnosis found there. ok is false where the roller is
// earthed, was not measured or has no capacity in the description, and where the
// current would drive one without a sparkover voltage beyond [hazard.OpenGap].
func (d *Diagnosis) Isolated(g GroundFinding) (s IsolatedState, ok bool) {
	if g.Station < 0 || g.Station >= len(d.desc.Stations) {
		return s, false
	}
	r := d.desc.Stations[g.Station].Roller
	if !g.Isolated || r == nil || !(r.Capacity > 0) {
		return s, false
	}
	var mid, high float64
	for k := range d.Changes {
		if d.Changes[k].Station == g.Station {
			lo, m, hi := d.Changes[k].Found.Band()
			mid = max(mid, math.Abs(m))
			high = max(high, math.Abs(lo), math.Abs(hi))
		}
	}
	perSigma := float64(d.Speed) * float64(d.desc.Web.Width) // m²/s
	s = IsolatedState{Finding: g, Current: units.Current(mid * perSigma), High: units.Current(high * perSigma)}
	c, err := hazard.NewConductor(
		hazard.ConductorSpec{Body: hazard.Metal, Capacitance: r.Capacity, Resistance: g.Resistance, Sparkover: r.Sparkover},
	)
	if err != nil {
		return s, false
	}
	s.Voltage = c.Charged(s.Current).Voltage
	top := c.Charged(s.High)
	if r.Sparkover == 0 && top.Voltage > hazard.OpenGap {
		return IsolatedState{}, false
	}
	s.HighVoltage, s.Energy, s.Sparks = top.Voltage, top.Energy, top.Sparks
	return s, true
}
