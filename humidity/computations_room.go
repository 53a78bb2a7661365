package humidity

import (
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

func outdoorArgs() []compute.Arg {
	return []compute.Arg{modelArg(), temperatureArg("outdoor", "outdoor dry bulb"), arg("rh", "1", "outdoor relative humidity", 0, 3), referenceArg(), pressureArg()}
}

func outdoorOf(a []float64) (Air, error) {
	return Model(a[0]).AirFrom(units.Pressure(a[4]), DryBulb(units.Temperature(a[1])), givenRH(a[3], a[2]))
}

func roomArgs() []compute.Arg {
	return []compute.Arg{arg("volume", "m³", "of the hall", 1, 1e7), arg("ventilation", "m³/s", "outdoor air", 1e-6, 1e4),
		choice("counted", "state at which the flow is counted", "indoor", "outdoor"), arg("gain", "kg/s", "moisture gain", -10, 10)}
}

func roomOf(a []float64) (Room, error) {
	return NewRoom(RoomSettings{Volume: units.Volume(a[0]), Ventilation: units.VolumeFlow(a[1]), CountedAt: FlowState(a[2]), Gain: units.MassFlow(a[3])})
}

func roomComputations() []compute.Entry {
	balance := known.Source{Provenance: known.Computed, Cite: "balance of dry air and water of a ventilated room, closed form"}
	heat := known.Source{Provenance: known.Computed, Cite: "analogy of heat and mass transfer (Lewis), integrated by Runge-Kutta"}
	return []compute.Entry{{
		Name: "humidity.Room",
		Doc:  "Indoor air of a ventilated hall against outdoor air: steady, and a time after it was at a start humidity. W_in = W_out + G/ṁ.",
		Args: append(append(outdoorArgs(), temperatureArg("indoor", "indoor temperature"), rhArg("start", "indoor relative humidity over water at the start"),
			arg("time", "s", "since the start", 0, 1e9)), roomArgs()...),
		Results: []compute.Arg{result("rh_steady", "1", "relative humidity, steady"), result("ratio_steady", "kg/kg", "humidity ratio, steady"),
			result("rh_after", "1", "relative humidity after the time"), result("air_changes", "1/s", "ventilation over volume"), result("outdoor_dew_point", "K", "outdoor dew point that gives the steady state, found backwards")},
		Covers: []string{"NewRoom", "Room.Steady", "Room.After", "Room.SeriesTo", "Room.AirChanges", "Room.OutdoorFor"},
		Source: balance,
		Eval: func(r, a []float64) error {
			out, err := outdoorOf(a)
			if err != nil {
				return err
			}
			room, err := roomOf(a[8:])
			if err != nil {
				return err
			}
			in, err := room.Steady(out, units.Temperature(a[5]))
			if err != nil {
				return err
			}
			start, err := out.Model().Air(units.Temperature(a[5]), units.RelativeHumidity(a[6]), out.Pressure())
			if err != nil {
				return err
			}
			after, err := room.After(units.Time(a[7]), start, out)
			if err != nil {
				return err
			}
			if a[7] > 0 { // the series of one step must say the same
				one := make([]Air, 1)
				if err := room.SeriesTo(one, units.Time(a[7]), start, []Air{out}); err != nil {
					return err
				}
				after = one[0]
			}
			back, err := room.OutdoorFor(in, out.Temperature())
			r[0], r[1], r[2], r[3], r[4] = float64(in.RelativeHumidity()), float64(in.HumidityRatio()), float64(after.RelativeHumidity()), float64(room.AirChanges()), float64(back.DewPoint())
			return err
		},
	}, {
		Name: "humidity.Humidifier",
		Doc:  "Water and heat to hold a hall at a humidity: H = ṁ(W_target − W_out) − G.",
		Args: append(append(outdoorArgs(), temperatureArg("indoor", "indoor temperature"), rhArg("target", "relative humidity over water to hold"),
			arg("feed", "K", "temperature of the feed water", 273.15, 373.15)), roomArgs()...),
		Results: []compute.Arg{result("water", "kg/s", "evaporated"), result("steam", "W", "heat of steam"), result("evaporation", "W", "heat taken from the room by evaporation"),
			result("rh_held", "1", "relative humidity with that water set free")},
		Covers: []string{"Room.Humidify", "Room.Adding"},
		Source: balance,
		Eval: func(r, a []float64) error {
			out, err := outdoorOf(a)
			if err != nil {
				return err
			}
			room, err := roomOf(a[8:])
			if err != nil {
				return err
			}
			target, err := out.Model().Air(units.Temperature(a[5]), units.RelativeHumidity(a[6]), out.Pressure())
			if err != nil {
				return err
			}
			d, err := room.Humidify(out, target, units.Temperature(a[7]))
			if err != nil {
				return err
			}
			wet, err := room.Adding(d.Water)
			if err != nil {
				return err
			}
			held, err := wet.Steady(out, target.Temperature())
			r[0], r[1], r[2], r[3] = float64(d.Water), float64(d.Steam), float64(d.Evaporation), float64(held.RelativeHumidity())
			return err
		},
	}, {
		Name:    "humidity.ThresholdDewPoint",
		Doc:     "Dew point that gives a relative humidity at a temperature, and the share of three equal times of given indoor humidity that lie below it.",
		Args:    []compute.Arg{rhArg("rh", "relative humidity over water needed"), temperatureArg("temperature", "of the place"), pressureArg(), rhArg("first", "RH in the first hour"), rhArg("second", "RH in the second hour"), rhArg("third", "RH in the third hour")},
		Results: []compute.Arg{result("dew_point", "K", "over water"), result("below", "s", "time below"), result("longest", "s", "longest unbroken time below")},
		Covers:  []string{"ThresholdDewPoint", "SpellsBelow"},
		Source:  fundamentals,
		Eval: func(r, a []float64) error {
			t, p := units.Temperature(a[1]), units.Pressure(a[2])
			d, err := ThresholdDewPoint(units.RelativeHumidity(a[0]), t, p)
			if err != nil {
				return err
			}
			var series []Air
			for _, x := range a[3:] {
				air, err := NewAir(t, units.RelativeHumidity(x), p)
				if err != nil {
					return err
				}
				series = append(series, air)
			}
			s, err := SpellsBelow(series, units.Hour, t, units.RelativeHumidity(a[0]))
			r[0], r[1], r[2] = float64(d), float64(s.Total), float64(s.Longest)
			return err
		},
	}, {
		Name: "humidity.ColdBody",
		Doc:  "Condensation on a cold metal body brought into a room: greatest water film, when it stops gathering, when the body is dry.",
		Args: []compute.Arg{arg("temperature", "K", "room", 273.15, 330), rhArg("rh", "relative humidity of the room over water"), pressureArg(), arg("start", "K", "body when it comes in", 213.15, 330),
			arg("heat_per_area", "J/(m²·K)", "heat capacity per exposed area", 100, 1e8), arg("convection", "W/(m²·K)", "film coefficient", 0.5, 500), arg("radiation", "W/(m²·K)", "linearised", 0, 10)},
		Results: []compute.Arg{result("condenses", "1", "1 if water condenses"), result("peak", "kg/m²", "greatest film"), result("wet_until", "s", "water stops gathering"), result("dry_at", "s", "last water gone")},
		Covers:  []string{"NewColdBody", "ColdBody.Wet", "Condenses"},
		Source:  heat,
		Eval: func(r, a []float64) error {
			air, err := NewAir(units.Temperature(a[0]), units.RelativeHumidity(a[1]), units.Pressure(a[2]))
			if err != nil {
				return err
			}
			body, err := NewColdBody(ColdBodySettings{HeatPerArea: a[4], Convection: a[5], Radiation: a[6]})
			if err != nil {
				return err
			}
			w, err := body.Wet(air, units.Temperature(a[3]))
			r[0], r[1], r[2], r[3] = flag(Condenses(air, units.Temperature(a[3]))), float64(w.Peak), float64(w.WetUntil), float64(w.DryAt)
			return err
		},
	}, {
		Name:    "humidity.SteelRoll",
		Doc:     "Heat capacity per exposed area of a solid steel cylinder, ρ c d/4.",
		Args:    []compute.Arg{arg("diameter", "m", "of the roll", 1e-3, 5)},
		Results: []compute.Arg{result("heat_per_area", "J/(m²·K)", "heat capacity per area")},
		Covers:  []string{"SteelRoll"},
		Source:  known.Source{Provenance: known.CommonPractice, Note: "7850 kg/m³, 490 J/(kg·K)"},
		Eval: func(r, a []float64) error {
			r[0] = SteelRoll(units.Length(a[0])).HeatPerArea
			return nil
		},
	}}
}
