package cure

import (
	"errors"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ranged is a change with figures whose ranges do not depend on the line.
type ranged interface{ check() error }

// CheckChanges finds what no line of the description could take: names that it has nothing of or that stand for
// another kind of station, and figures out of their range. It asks nothing else of the description, which line.New
// may refuse, nor of a site: who writes them and changes wants the faults of all in one round. A change may name what
// one before it added, and not what one before it removed; behind a nil change, which nobody could read, no name is
// told that it may have added. Faults are the [*known.FieldError]s that [Calibrated.Try] gives, joined.
func CheckChanges(d *line.Description, changes ...Change) error {
	n := names{kinds: map[string]line.StationKind{}, any: d == nil || len(d.Stations) == 0}
	for i := 0; !n.any && i < len(d.Stations); i++ {
		n.kinds[d.Stations[i].Name] = d.Stations[i].Kind
	}
	var errs []error
	for i, x := range changes {
		if x == nil {
			n.any = true
			continue
		}
		err := n.check(x)
		if r, ok := x.(ranged); ok {
			err = errors.Join(err, r.check())
		}
		if err != nil {
			errs = append(errs, ofChange(i, err))
		}
	}
	return errors.Join(errs...)
}

// names are the stations of a line that may not be sound.
type names struct {
	kinds map[string]line.StationKind // 0 where it could not be read
	any   bool                        // others may be there as well
}

// of tells a station that the line does not have, or that is none of the kinds.
func (n *names) of(name, what string, kinds ...line.StationKind) error {
	kind, ok := n.kinds[name]
	if !ok { // a name that is missing is a fault of form
		if n.any || name == "" {
			return nil
		}
		return known.Wrong("station", name, noStation)
	}
	for _, k := range kinds {
		if kind == k || kind == 0 {
			return nil
		}
	}
	if len(kinds) == 0 {
		return nil
	}
	return known.Wrong("station", name, what)
}

// check tells the names of a change, and follows what it adds and takes away.
func (n *names) check(x Change) error {
	switch c := x.(type) {
	case Earth:
		if n.kinds[c.Station] == line.Winder {
			return known.Wrong("station", c.Station, noMetal+"; the core of a winder goes by shield")
		}
		return n.of(c.Station, noMetal, line.Roller, line.Nip)
	case Switch:
		return n.of(c.Station, noIoniser, line.Ioniser)
	case Clean:
		return n.of(c.Station, noIoniser, line.Ioniser)
	case Blow:
		return n.of(c.Station, noIoniser, line.Ioniser)
	case Move:
		return n.of(c.Station, noIoniser, line.Ioniser)
	case Cover:
		return n.of(c.Station, noContact, line.Roller, line.Nip)
	case Load:
		return n.of(c.Station, noContact, line.Roller, line.Nip)
	case Wrap:
		return n.of(c.Station, noContact, line.Roller, line.Nip)
	case Shield:
		return n.of(c.Station, noWinder, line.Winder)
	case Moisten:
		return n.air(c.Air)
	case Warm:
		return n.air(c.Air)
	case Remove:
		if err := n.of(c.Station, noInside, line.Roller, line.Nip, line.Ioniser, line.Place); err != nil {
			return err
		}
		delete(n.kinds, c.Station)
		n.kinds[c.Station+itsPlace] = line.Place // which may stay
	case Add:
		if _, ok := n.kinds[c.Station.Name]; ok && c.Station.Name != "" {
			return known.Wrong("station.name", c.Station.Name, notNew)
		}
		n.any = n.any || c.Station.Name == ""
		n.kinds[c.Station.Name] = c.Station.Kind
	}
	return nil
}

// air tells an air that is neither that of the line nor at one of its stations.
func (n *names) air(name string) error {
	if _, ok := n.kinds[name]; ok || n.any || !local(name) {
		return nil
	}
	return known.Wrong("air", name, noAir)
}

// itsPlace is what is left of the name of a station that was taken away, where its leak begins.
const itsPlace = ", its place"

// What is wanted of a name.
const (
	noStation = "the name of a station of the line"
	noMetal   = "the name of a station with a metal roller"
	noIoniser = "the name of an ioniser"
	noContact = "the name of a roller or nip"
	noWinder  = "the name of a winder"
	noInside  = "a station between unwind and winder"
	notNew    = "a name that no station of the line has"
	noAir     = "nothing, line, or the name of a station with a leak path"
)

func (c Run) check() error { return known.InRange("speed", c.Speed, 1e-4, 100) }

func (c Earth) check() error { return known.InRange("resistance", c.Resistance, 0, units.Megohm) }

func (c Moisten) check() error { return known.InRange("to", c.To, 0.01, 1) }

func (c Warm) check() error { return known.InRange("to", c.To, units.Celsius(-40), units.Celsius(80)) }

func (c Blow) check() error { return known.InRange("gauge", c.Gauge, 0, 10*units.BarGauge) }

func (c Move) check() error {
	if c.Distance == 0 {
		return nil
	}
	return known.InRange("distance", c.Distance, units.Millimetre, 5*units.Metre)
}

func (c Cover) check() error {
	if c.Strength.Value == 0 {
		c.Strength = spreadFactor(1, 3)
	}
	return errors.Join(c.Strength.Check("strength"), known.InRange("strength.value", c.Strength.Value, -10, 10),
		known.NotNegative("time", c.Time))
}

func (c Load) check() error {
	if c.Times > 0 {
		c.From, c.To = units.NewtonPerMetre, units.ForcePerWidth(c.Times)
	}
	return errors.Join(known.Positive("from", c.From), known.Positive("to", c.To), c.Exponent.Check("exponent"))
}

func (c Wrap) check() (err error) {
	switch most := 350 * units.Degree; {
	case c.Times != 0:
		return known.InRange("times", c.Times, 0, 350)
	case c.From == 0:
		return known.Wrong("from", "none", "the angle now and the one wanted, or times")
	default:
		if !(c.From >= units.Degree && c.From <= most) {
			err = known.Wrong("from", degrees(c.From), "1 … 350°")
		}
		if !(c.To >= 0 && c.To <= most) {
			err = errors.Join(err, known.Wrong("to", degrees(c.To), "0 … 350°"))
		}
	}
	return err
}
