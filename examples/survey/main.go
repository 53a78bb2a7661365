// Command survey is pithball's main job: a described line and a surveyor's
// readings in, a verdict out.
//
// Without arguments it runs an invented film slitter that is built into it. It
// prints the verdict and a table of stations and writes one self-contained HTML
// report. Exit status: 0 done, 2 bad input, 1 a failure of the program.
package main

import (
	"bytes"
	"embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"

	"example.org/pithball/examples/internal/outfile"
	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

//go:embed demo/line.json demo/survey.csv
var demo embed.FS

const usage = `survey reads a line description and a survey of readings and says where the
charge comes from, what to earth, what to measure, what to do and what not to do.

Without -line and -survey it runs an invented demonstration, a film slitter.

usage: survey [flags]

`

// options are the command's flags.
type options struct {
	line, survey, html, limit string
	format                    string
	system                    units.System
}

// inputError is a fault of the input: exit status 2.
type inputError struct{ err error }

func (e *inputError) Error() string { return e.err.Error() }
func (e *inputError) Unwrap() error { return e.err }

func main() {
	os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
}

func run(args []string, stdout, stderr io.Writer) int {
	o, err := parse(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return 0
	}
	if err == nil {
		err = work(o, stdout)
	}
	var bad *inputError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &bad):
		fmt.Fprintln(stderr, "survey:", err)
		return 2
	}
	fmt.Fprintln(stderr, "survey: failed:", err)
	return 1
}

func parse(args []string, stderr io.Writer) (*options, error) {
	o := &options{}
	var system string
	f := flag.NewFlagSet("survey", flag.ContinueOnError)
	f.SetOutput(stderr)
	f.Usage = func() {
		fmt.Fprint(stderr, usage)
		f.PrintDefaults()
		fmt.Fprintf(stderr, "\nThe survey is a CSV file with the columns\n  %s\n", wrapList(survey.Columns(), 76))
	}
	f.StringVar(&o.line, "line", "", "line description, a JSON `file`; default: the demonstration")
	f.StringVar(&o.survey, "survey", "", "readings, a CSV `file`; default: the demonstration")
	f.StringVar(&o.html, "html", "pithball-survey.html", "`file` for the HTML report; empty: none")
	f.StringVar(&o.format, "format", "text", "what to print: text or json")
	f.StringVar(&system, "units", "metric", "units to print: metric or us")
	f.StringVar(&o.limit, "limit", "", "what to judge the net charge against, instead of the description's choice: "+
		"cling, \"5 kV/in\" or a charge density such as \"2 µC/m²\"")
	if err := f.Parse(args); err != nil {
		if errors.Is(err, flag.ErrHelp) {
			return nil, err
		}
		return nil, &inputError{errors.New("see survey -h")}
	}
	switch {
	case f.NArg() > 0:
		return nil, &inputError{fmt.Errorf("argument %q: want flags only; see survey -h", f.Arg(0))}
	case o.format != "text" && o.format != "json":
		return nil, &inputError{fmt.Errorf("-format: %s: want text or json", o.format)}
	case (o.line == "") != (o.survey == ""):
		return nil, &inputError{errors.New("-line and -survey: one is missing; want both, or neither for the demonstration")}
	}
	switch system {
	case "metric":
		o.system = units.Metric
	case "us":
		o.system = units.US
	default:
		return nil, &inputError{fmt.Errorf("-units: %s: want metric or us", system)}
	}
	return o, nil
}

func work(o *options, stdout io.Writer) error {
	p, err := load(o)
	if err != nil {
		return &inputError{err}
	}
	r, err := report.New(p, o.system)
	if err != nil {
		return err
	}
	var html []byte
	if o.html != "" {
		if html, err = r.HTML(); err != nil {
			return err
		}
	}
	var out bytes.Buffer
	if o.format == "json" {
		err = r.JSON(&out)
	} else {
		err = r.Text(&out)
	}
	if err != nil {
		return err
	}
	if o.html != "" {
		path, err := outfile.Write(o.html, html, o.line, o.survey)
		if err != nil {
			return &inputError{fmt.Errorf("-html: %w", err)}
		}
		if o.format == "text" {
			fmt.Fprintf(&out, "\nReport: %s\n", path)
		}
	}
	_, err = stdout.Write(out.Bytes())
	return err
}

// load reads and checks both files; errors name the file.
func load(o *options) (*report.Input, error) {
	p := &report.Input{Names: [2]string{o.line, o.survey}}
	open := func(name, path string) (io.ReadCloser, error) {
		if path == "" {
			return demo.Open(name)
		}
		return os.Open(path)
	}
	if o.line == "" {
		p.Names = [2]string{"demo/line.json", "demo/survey.csv"}
	}
	f, err := open("demo/line.json", o.line)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	d, err := line.ReadDescription(f)
	if err != nil {
		return nil, named(p.Names[0], err)
	}
	if err := setLimit(d, o.limit); err != nil {
		return nil, err
	}
	if p.Line, err = line.New(d); err != nil {
		return nil, named(p.Names[0], err)
	}
	g, err := open("demo/survey.csv", o.survey)
	if err != nil {
		return nil, err
	}
	defer g.Close()
	if p.Survey, err = survey.ReadSurvey(g); err != nil {
		return nil, named(p.Names[1], err)
	}
	if p.Diagnosis, err = survey.Diagnose(p.Line, p.Survey); err != nil {
		return nil, named(p.Names[1], err)
	}
	return p, nil
}

func setLimit(d *line.Description, s string) error {
	switch s {
	case "":
	case "cling", "5 kV/in":
		d.Limit = line.Limit{Kind: s}
	default:
		v, err := units.Parse[units.SurfaceChargeDensity](s)
		if err != nil {
			return fmt.Errorf("-limit: %w; or cling, or \"5 kV/in\"", err)
		}
		d.Limit = line.Limit{Kind: "own", Net: v}
	}
	return nil
}

// named puts the file's name before the first fault; where a constructor found
// several, their number is told.
func named(file string, err error) error {
	if many, ok := err.(interface{ Unwrap() []error }); ok {
		all := flatten(many.Unwrap())
		if len(all) > 1 {
			return fmt.Errorf("%s: %w (and %d more)", file, all[0], len(all)-1)
		}
		err = all[0]
	}
	return fmt.Errorf("%s: %w", file, err)
}

func flatten(list []error) []error {
	var out []error
	for _, e := range list {
		if many, ok := e.(interface{ Unwrap() []error }); ok {
			out = append(out, flatten(many.Unwrap())...)
		} else if e != nil {
			out = append(out, e)
		}
	}
	return out
}

// wrapList writes names with commas and breaks lines between names only.
func wrapList(list []string, width int) string {
	const hold = "\u00a0" // Fields does not break here
	s := strings.Join(list, ", ")
	for _, n := range list {
		s = strings.Replace(s, n, strings.ReplaceAll(n, " ", hold), 1)
	}
	return strings.ReplaceAll(report.Wrap(s, width, "  "), hold, " ")
}
