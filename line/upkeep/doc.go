// Package upkeep is what makes a cure last: whether it worked, when the trouble
// comes back, who checks what, and what is dangerous meanwhile.
//
//	CompareReadings, CompareCounts, CompareScatter, CompareSwitched
//	               before against after, corrected for the weather of the two days
//	NeedAt, Need.Threshold
//	               the air that a station needs: humidity and dew point, with bands
//	Need.LimitFromLog
//	               what the calendar of complaints says of the limit
//	ForecastYear   hours, shifts and weeks of a year over the limit, from outdoor air
//	Watches, CleaningOf, Keep
//	               limits in volts of a named meter, intervals, who checks what when
//	Hazards        what is dangerous, in order; works before any other answer
//
// Which condition raises each notice in Hazards, also where
// nothing was measured or answered:
//
//	not-an-approval      always; first of all while zone, flammables or who decided are not answered
//	isolated-conductor   each metal roller whose resistance to earth was not measured or exceeds 1 MΩ; people
//	brush-discharge      a roll or pile of insulating goods at the end of the line; insulating goods where
//	                     flammables or zone are not excluded
//	propagating-brush    an insulating roller cover; insulating goods with a nip, an ioniser or a liner
//	cone-discharge       powder or granulate, unless nothing is heaped in a large vessel
//	dust                 flammable dust; powder, or fines that nobody excluded on parts
//	ioniser-in-zone      an ioniser where flammables or zone are not excluded
//	shock                always: charged goods, conductors or people within reach
//	implant              always: charged goods or high voltage
//	reach-in             always: moving machinery at which readings are taken
//	high-voltage         a powered ioniser
//	ozone                a powered ioniser
//	radioactive          an ioniser without supply that nobody said is not radioactive; a yes
//	compressed-air       an ioniser that nobody said blows no air; a yes
//	chemicals            an ioniser, whose pins are cleaned; antistatic agents
//	electronics          an ioniser, unless no sensitive electronics are near; a yes
//	humidity             goods that moisture changes, unless nobody humidifies; a yes
//
// It owns no physics formula. Leakage follows a law of package humidity, contacts
// and fields follow packages line and charge.
package upkeep
