// Package upkeep is what makes a cure last: whether it worked, when the trouble
// comes back, who checks what, and what is dangerous meanwhile.
//
//	CompareReadings, CompareCounts, CompareScatter, CompareSwitched
//	               before against after, corrected for the weather of the two days
//
// It owns no physics formula. Leakage follows a law of package humidity, contacts
// and fields follow packages line and charge.
package upkeep
