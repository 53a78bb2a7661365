package units

// volumeFlows are the units that a reference state can follow.
var volumeFlows = [...]struct {
	num, den uint64
	symbol   string
	also     string
}{
	{1, 1, "m³/s", ""}, {1, 60, "m³/min", ""}, {1, 3600, "m³/h", ""},
	{1, 1000, "L/s", "l/s"}, {1, 60000, "L/min", "l/min"}, {1, 3600000, "L/h", "l/h"},
	{28316846592, 60e12, "cfm", "ft³/min"}, {28316846592, 3600e12, "cfh", "ft³/h"},
}

// standardFlowUnits writes the table of standard flows: every volume flow with
// every reference in parentheses or after a space, and the short spellings that
// name a state by themselves.
func standardFlowUnits() []unit {
	var out []unit
	for r := ReferenceDIN1343; int(r) < numReferences; r++ {
		tag := references[r].tag
		for _, f := range volumeFlows {
			symbol := f.symbol + "(" + tag + ")"
			also := []string{f.symbol + " " + tag, ucumMark + "-"}
			if f.also != "" {
				also = append(also, f.also+"("+tag+")", f.also+" "+tag)
			}
			short := ""
			switch {
			case r == ReferenceDIN1343 && f.also == "" || r == ReferenceDIN1343 && f.also[0] == 'l':
				short = "N" + f.symbol
				if f.also != "" {
					also = append(also, "N"+f.also)
				}
			case r == Reference15C && f.also == "":
				short = "S" + f.symbol
			case f.symbol[0] == 'c' && (r == Reference60F || r == Reference68F || r == Reference68FMoist):
				short = "s" + symbol
				also = append(also, "s"+f.symbol+" "+tag)
			}
			if short != "" {
				also = append(also, symbol)
				symbol = short
			}
			u := ratio(f.num, f.den, symbol, also...)
			u.ref = r
			out = append(out, u)
		}
	}
	return out
}
