package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

// command is one verb of the job. All have the same grammar: survey [command]
// [flags]; files by flags; -format text or json; the demonstration where no file
// is named.
type command struct {
	name  string
	says  string // for the list
	help  string // for survey command -h
	flags func(f *flag.FlagSet, o *options)
	work  func(o *options, stdout io.Writer) error
}

func commands() []command {
	lineFlag := func(f *flag.FlagSet, o *options) {
		f.StringVar(&o.line, "line", "", "description of a web line or of goods (sheets, parts, a profile, doses), a "+
			"JSON `file`; "+
			"default: the demonstration")
	}
	surveyFlag := func(f *flag.FlagSet, o *options) {
		f.StringVar(&o.survey, "survey", "", "readings of a web line, a CSV `file`; "+
			"those of goods stand in the description; "+
			"default: the demonstration")
	}
	siteFlag := func(f *flag.FlagSet, o *options) {
		f.StringVar(&o.site, "site", "", "answers on zone, flammables and equipment, a JSON `file`; "+
			"default: nothing answered")
	}
	goodsFlags := func(f *flag.FlagSet, o *options) {
		f.StringVar(&o.rate, "rate", "", "goods: wanted `rate` such as \"15000 1/h\"; default: that of the description")
		f.StringVar(&o.cold, "cold", "", "goods: `temperature` of the coldest that come in, such as \"8 °C\"; "+
			"damp air wets them; default: not asked")
	}
	aimFlags := func(f *flag.FlagSet, o *options) {
		f.StringVar(&o.speed, "speed", "", "web: wanted `speed` such as \"300 m/min\"; default: that of the survey")
		o.aims = true
		f.Float64Var(&o.chance, "chance", 0.05, "web: `chance` that any place may be over the limit")
		f.BoolVar(&o.faces, "faces", false, "web: judge single faces too: it is cut, stacked or peeled next")
		goodsFlags(f, o)
	}
	seasonFlag := func(f *flag.FlagSet, o *options) {
		f.StringVar(&o.season, "season", "", "weather and hall, a JSON `file`; default: none")
	}
	return []command{
		{"verdict", "where the charge comes from, what to earth, measure, do and not do (without a command too)",
			"reads a line description and a survey of readings and says where the charge comes\nfrom, what to earth, what to " +
				"measure, what to do and what not to do.",
			func(f *flag.FlagSet, o *options) {
				lineFlag(f, o)
				surveyFlag(f, o)
				siteFlag(f, o)
				seasonFlag(f, o)
				aimFlags(f, o)
				f.StringVar(&o.html, "html", "pithball-survey.html", "`file` for the HTML report; empty: none")
				f.StringVar(&o.limit, "limit", "", "what to judge the net charge against, instead of the description's choice: "+
					"cling, \"5 kV/in\" or a charge density such as \"2 µC/m²\"")
			}, verdict},
		{"hazards", "what is dangerous, in order, with the standard and who decides; needs no reading",
			"lists what is dangerous on a line in the order in which it is to be dealt with. It\n" +
				"works on a description alone; what nobody measured or answered counts as present.",
			func(f *flag.FlagSet, o *options) { lineFlag(f, o); surveyFlag(f, o); siteFlag(f, o) }, hazards},
		{"forecast", "when in a year the line runs over its limit, from weather",
			"says which air a line needs and how many hours, shifts and weeks of a year miss it.",
			func(f *flag.FlagSet, o *options) {
				f.StringVar(&o.season, "season", "", "stations, hall and weather, a JSON `file`; "+
					"default: the demonstration, a press")
			}, forecast},
		{"compare", "did a cure work, or was it a wet day?",
			"compares readings, counts or weights before and after a cure, corrected for the\nweather of the two days.",
			func(f *flag.FlagSet, o *options) {
				f.StringVar(&o.days, "days", "", "the two sides, a JSON `file`; default: the demonstration, a press")
			}, compare},
		{"keep", "limits in volts of the meter or nC of the pail, cleaning intervals, who checks what when",
			"makes of a survey, or of goods with their readings, what has to be checked from now on, by whom\nand when.",
			func(f *flag.FlagSet, o *options) {
				lineFlag(f, o)
				surveyFlag(f, o)
				f.StringVar(&o.care, "care", "", "currents of bars or nozzles, earlier readings, a JSON `file`; default: none")
				f.StringVar(&o.season, "season", "", "weather for the month of the next survey, a JSON `file`; default: none")
				f.StringVar(&o.meter, "meter", "", "`name` of the field meter; default: the first of the description")
			}, keep},
		{"plan", "what to do, in order: ground, source, leak, ions, screens, speed; what fails, what proves it",
			"lists the ground to check and the cures in their order, with the effect of each, what is\nrefused and why, " +
				"the fewest " +
				"that reach the aim, what happens if one ioniser fails, and\nwhat proves it. Without an answer on zone and " +
				"flammables (-site) it plans earthing only.",
			func(f *flag.FlagSet, o *options) {
				lineFlag(f, o)
				surveyFlag(f, o)
				siteFlag(f, o)
				aimFlags(f, o)
			}, plan},
		{"try", "what a list of changes brings at every station",
			"tells what changes bring at every station: faces, net, display, chance over the limit.",
			func(f *flag.FlagSet, o *options) {
				lineFlag(f, o)
				surveyFlag(f, o)
				siteFlag(f, o)
				f.StringVar(&o.changes, "changes", "",
					"changes, a JSON `file`; each has do: "+kindNames+"; of goods: "+goodsKindNames+"; default: the demonstration")
			}, try},
		{"start", "a first description from eight answers, or a folder with all files to fill in",
			"writes a description from eight answers and lists everything that it assumed. With\n-folder it writes " +
				"the answers, the description, readings and the questions of safety,\nall to be replaced: line.json, " +
				"survey.csv (of a web), site.json, assumed.txt and examples for try, compare and forecast.",
			func(f *flag.FlagSet, o *options) {
				f.StringVar(&o.answers, "answers", "", "the eight answers, a JSON `file`; default: invented ones of -body")
				f.StringVar(&o.body, "body", "web", "`kind` of goods of the invented answers: web, sheet, part, profile or dose")
				f.StringVar(&o.out, "out", "", "`file` for the description; default: it is printed alone")
				f.BoolVar(&o.fields, "fields", false, "print the table of all fields of all files: words, ranges and units")
				f.StringVar(&o.folder, "folder", "", "`folder` for all files; it is made if need be, and nothing in it is replaced")
			}, start},
	}
}

// parse finds the command and its flags.
func parse(args []string, stderr io.Writer) (*command, *options, error) {
	all := commands()
	c := &all[0]
	bare := len(args) == 0 || strings.HasPrefix(args[0], "-")
	var given []string // the name of the command
	if !bare {
		c, given = nil, args[:1]
		var names []string
		for i := range all {
			names = append(names, all[i].name)
			if all[i].name == args[0] {
				c = &all[i]
			}
		}
		if c == nil {
			return nil, nil, &inputError{fmt.Errorf("argument %q: want one of %s, or flags; see survey -h", args[0],
				strings.Join(names, ", "))}
		}
		args = args[1:]
	}
	o := &options{files: files{}}
	var system, format string
	f := flag.NewFlagSet("survey "+c.name, flag.ContinueOnError)
	f.SetOutput(io.Discard) // a slip in one flag does not need all of them
	c.flags(f, o)
	f.StringVar(&format, "format", "text", "what to print: text or json")
	f.BoolVar(&o.tell, "progress", false, "tell what a long run is at on standard error; "+
		"on a terminal it does so by itself")
	f.StringVar(&system, "units", "metric", "units to print: metric or us")
	if err := f.Parse(args); err != nil {
		help := strings.TrimSpace("survey "+strings.Join(given, "")) + " -h"
		if errors.Is(err, flag.ErrHelp) {
			f.SetOutput(stderr)
			usage(stderr, f, c, all, bare)
			return nil, nil, err
		}
		return nil, nil, &inputError{fmt.Errorf("%w; see %s", err, help)}
	}
	switch {
	case f.NArg() > 0:
		return nil, nil, &inputError{fmt.Errorf("argument %q: want flags only; see survey %s -h", f.Arg(0), c.name)}
	case o.line == "" && o.survey != "":
		return nil, nil, &inputError{errors.New("-line: missing; want the description that -survey belongs to")}
	}
	switch format {
	case "text":
	case "json":
		o.json = true
	default:
		return nil, nil, &inputError{fmt.Errorf("-format: %s: want text or json", format)}
	}
	switch system {
	case "metric":
		o.system = units.Metric
	case "us":
		o.system = units.US
	default:
		return nil, nil, &inputError{fmt.Errorf("-units: %s: want metric or us", system)}
	}
	return c, o, nil
}

func usage(w io.Writer, f *flag.FlagSet, c *command, all []command, bare bool) {
	name := "survey " + c.name
	if bare {
		name = "survey"
	}
	fmt.Fprintf(w, "%s %s\n\nWithout files it runs an invented demonstration.\n\nusage: %s [flags]\n\n", name, c.help,
		name)
	f.PrintDefaults()
	if c.name == "verdict" {
		fmt.Fprintf(w, "\nThe survey is a CSV file with the columns\n  %s\n", wrapList(survey.Columns(), 76))
		fmt.Fprint(w, "Write the first files with survey start -folder mine; all fields of all files with their words,\n"+
			"ranges and units: survey start -fields.\n")
	}
	if !bare {
		return
	}
	fmt.Fprint(w, "\nOther commands, survey command -h for their flags:\n")
	for _, x := range all {
		fmt.Fprintf(w, "  %-9s %s\n", x.name, report.Wrap(x.says, 64, "            "))
	}
}
