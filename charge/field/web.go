package field

import (
	"math"

	"example.org/pithball/units"
)

// SheetField returns the field at a wide earthed meter plane before a wide web,
// (σ/ε0)·h/(d+h), with σ the net charge density of both faces; see [FieldFactor]
// for what that takes. 1 µC/m² with no metal behind makes 113 kV/m, 1.13 kV/cm,
// 2.87 kV/in, where the trade reckons 1 kV/cm and 2.5 kV/in.
func SheetField(net units.SurfaceChargeDensity, distance, gap units.Length) units.ElectricField {
	return units.ElectricField(float64(net) / units.Epsilon0 * FieldFactor(distance, gap))
}

// RollerCurrent returns the current that a roller takes when a web of width w at
// the speed v leaves with its charge density changed by Δσ, −Δσ·v·w: what the web
// gains, the roller loses.
func RollerCurrent(change units.SurfaceChargeDensity, speed units.Speed, width units.Length) units.Current {
	return units.Current(-float64(change) * float64(speed) * float64(width))
}

// CurrentMargin returns the current per width that a neutraliser can give over
// the one that a web carries, both in magnitude: it gives the opposite sign. Five
// or more is called good practice for clean bars by one author (K. S. Robinson,
// Paper, Film & Foil Converter, Static Beat: why static is worse at high speeds).
// NaN for 0 over 0.
func CurrentMargin(available, carried units.LineCurrent) float64 { // [1]
	return math.Abs(float64(available)) / math.Abs(float64(carried))
}
