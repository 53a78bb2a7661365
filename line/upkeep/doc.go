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
// It owns no physics formula. Leakage follows a law of package humidity, contacts
// and fields follow packages line and charge.
package upkeep
