// Package humidity is about the water in the air of a production hall and in
// the material on the line: moist air and its measures, the winter chain from
// tomorrow's outdoor dew point to the relative humidity at the web, the
// humidifier that would be needed, cold goods, and what moisture does to
// resistivity. Humidity acts on static mainly through the leak: it changes how
// fast charge goes away, hardly how much contact makes.
//
// # Where to begin
//
//	what is the dew point of the air in a room                    NewAir or Room.Steady, Air.DewPoint
//	what is the RH at the press, 27 °C, if it is 45 % at 20 °C    NewAir, Air.At
//	what does outdoor air become indoors                          NewRoom, Room.Steady
//	how much water for 45 %RH                                     Room.Humidify
//	at which dew point does the line start to jam                 FitLogLinear, ThresholdFor, Room.OutdoorFor
//	which weeks of a year                                         Room.SeriesTo, SpellsBelow
//	how long must the pile stand, does it get wet                 NewGoods, Goods.Warm, Goods.Condition
//	does a cold steel roll get wet                                NewColdBody, ColdBody.Wet
//	what resistivity has it at 25 %RH                             MaterialFor, Band; or fit your own tests
//	what does a psychrometer say                                  AirFrom, Psychrometer
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
// Below 0 °C air of more than about 91 % (−10 °C) or 82 % (−20 °C) relative
// humidity over water is supersaturated over ice; that is ordinary winter air
// and it is accepted and flagged ([Air.Supersaturated]).
//
// [AirModel] chooses the formulas by name: [IAPWS] with the enhancement factor of
// real air is the default; [ASHRAEIdeal] and [WMOMagnus] reproduce tables made
// with those. Single equations are [Equation]s.
//
// # Hall and goods
//
// A [Room] is a ventilated hall: steady, in time and backwards to the outdoor air
// that it needs. [Goods] come in cold: their face is dry in minutes, their core
// takes days, and the core is the advice. [Body] is the diffusion behind it.
//
// # Materials
//
// A [Material] is inert, adsorbing or absorbing ([Class]). Inert polymers gain
// nothing from humidity, and that is the default for an unknown polymer. What the
// table holds says where it comes from and at which temperatures ([Sourced]); what
// it does not hold, it says too ([Material.Missing]). Moisture per wet mass
// ([MoistureContent]) and per dry mass ([Regain]) are different types.
//
// Laws of resistivity or leak time ([LogLinear], [AdsorbedFilm], [MoisturePower],
// [Arrhenius]) are fitted from the plant's own tests, two or more, and carry the
// band that so few tests deserve: Student's t, so that bands of 90 % hold 89 to 92 % of
// further tests at 3, 5 and 10 points, whatever the shape of their scatter (93.4 % at
// ten points of a bounded one, which has no tails), and 90 to 91 % carried to another
// temperature. What is known as a lower limit only is [AtLeast].
package humidity
