// Command nozzle writes what ionflow computes for nozzles, isentropic flow and
// compression as JSON, for nozzle.py to compute again with a general library of
// fluid mechanics.
package main

import (
	"encoding/json"
	"fmt"
	"os"

	"example.org/pithball/ionflow/jet"
	"example.org/pithball/units"
)

type flow struct {
	D, Cd, Gauge, Ambient, T     float64
	Mass, Throat, Ideal, Density float64
	Choked                       bool
}

type isentropic struct{ M, P, Rho, T, A float64 }

type work struct {
	Gauge, T  float64
	Stages    int
	W         float64
	PerNormal float64
}

func main() {
	var out struct {
		Gamma, R, Critical float64
		Flow               []flow
		Isentropic         []isentropic
		Work               []work
	}
	out.Gamma, out.R, out.Critical = jet.HeatCapacityRatio, jet.GasConstantAir, float64(jet.CriticalPressureRatio())
	for _, ambient := range []float64{101325, 84500} {
		for _, gauge := range []float64{200, 5e3, 3e4, 6e4, 8.5e4, 1.2e5, 3e5, 6e5, 10e5} {
			for _, t := range []float64{283.15, 293.15, 313.15} {
				f := flow{D: 1e-3, Cd: 0.7, Gauge: gauge, Ambient: ambient, T: t}
				n, err := jet.NewNozzle(jet.NozzleSpec{Area: jet.Hole(units.Length(f.D)), Discharge: f.Cd})
				check(err)
				r, err := n.Flow(units.GaugePressure(gauge), units.Pressure(ambient), units.Temperature(t))
				check(err)
				f.Mass, f.Throat, f.Choked = float64(r.Mass), float64(r.Throat), r.Choked
				f.Ideal = float64(jet.IdealExitSpeed(units.GaugePressure(gauge), units.Pressure(ambient), units.Temperature(t)))
				f.Density = float64(jet.AirDensity(units.Temperature(t), units.Pressure(ambient+gauge)))
				out.Flow = append(out.Flow, f)
			}
		}
	}
	for _, m := range []float64{0.1, 0.3, 0.5, 0.87, 0.9, 1, 1.1, 1.5, 2, 3} {
		s := jet.IsentropicAt(m)
		out.Isentropic = append(out.Isentropic, isentropic{m, float64(s.Pressure), float64(s.Density),
			float64(s.Temperature), float64(s.Area)})
	}
	for _, gauge := range []float64{1e3, 5e4, 3e5, 7e5} {
		for _, stages := range []int{0, 1, 2, 3} {
			w := float64(jet.CompressionWork(units.GaugePressure(gauge), units.Atmosphere, units.Temperature(288.15), stages))
			out.Work = append(out.Work, work{gauge, 288.15, stages, w,
				w * float64(jet.ReferenceDensity(units.ReferenceDIN1343))})
		}
	}
	check(json.NewEncoder(os.Stdout).Encode(out))
}

func check(err error) {
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
