// Package humidity is about the water in the air of a production hall and in
// the material on the line: moist air and its measures, the winter chain from
// tomorrow's outdoor dew point to the relative humidity at the web, the
// humidifier that would be needed, condensation, and what moisture does to
// resistivity. Humidity acts on static mainly through the leak: it changes how
// fast charge goes away, hardly how much contact makes.
//
// # Air
//
// [Air] is temperature, total pressure and vapour pressure. The vapour pressure
// is what stays when the same air is heated or cooled at constant pressure
// ([Air.At]); relative humidity is derived at each temperature and never
// averaged. It is built from temperature and relative humidity ([NewAir]) or
// from any two independent measures ([AirFrom]).
//
// Relative humidity is over liquid water at every temperature, as weather
// services report it, unless a type says ice. At −20 °C the two differ by 22 %.
// Below 0 °C air of more than about 90 % (−10 °C) or 82 % (−20 °C) relative
// humidity over water is supersaturated over ice; that is ordinary winter air
// and it is accepted and flagged ([Air.Supersaturated]).
//
// # Formulas
//
// [Model] chooses the formulas by name: [IAPWS] with the enhancement factor of
// real air is the default; [ASHRAEIdeal] and [WMOMagnus] reproduce tables made
// with those. Single equations are [Equation]s.
//
// # Materials
//
// A material is inert, adsorbing or absorbing ([Class]). Inert polymers gain
// nothing from humidity, and that is the default for an unknown polymer.
// Resistivity laws ([LogLinear], [AdsorbedFilm], [MoisturePower], [Arrhenius]) are
// fitted from measured points and carry their spread in decades. Moisture per
// wet mass ([MoistureContent]) and per dry mass ([Regain]) are different types.
package humidity
