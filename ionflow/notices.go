package ionflow

import "example.org/pithball/units/known"

// AirNotices returns the cautions that go with any use of compressed air.
func AirNotices() []known.Notice {
	return []known.Notice{
		{Code: "compressed-air", Condition: "a jet of compressed air can injure and throws up chips and dust",
			Consult: "the rule of the place (for example 29 CFR 1910.242(b), below 30 psi dead-ended for cleaning)",
			Decide:  "pressure, guards and protection; never towards people"},
		{Code: "jet-noise", Condition: "a jet is loud, and its noise rises steeply with its speed",
			Consult: "the noise limits of the place (for example Directive 2003/10/EC, 29 CFR 1910.95)",
			Decide:  "a noise measurement and hearing protection"},
	}
}

// PassiveNotices returns the cautions that go with any use of passive points.
func PassiveNotices() []known.Notice {
	return []known.Notice{
		{Code: "passive-earth", Condition: "points that lose their earth charge up and can shock or spark",
			Consult: "the rules for earthing of the place", Decide: "a lasting connection to earth and its regular measurement"},
		{Code: "passive-explosive-atmosphere", Condition: "a corona is an ignition source, a passive one too",
			Consult: "IEC TS 60079-32-1 and the zoning of the place", Decide: "whether a passive source may be used at all"},
	}
}
