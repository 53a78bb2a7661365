// Command survey is pithball's main job: a described line and a surveyor's
// readings in, a verdict out.
//
// Without arguments it runs an invented film slitter that is built into it. It
// prints the verdict and a table of stations and writes one self-contained HTML
// report. The other commands are the rest of the job: what is dangerous, what to do in
// which order, what a change brings, when the trouble comes back, whether a cure worked,
// who checks what, and first files.
//
// To describe a line of one's own: "survey start -body web -folder mine" (or sheet, part,
// profile, dose) writes a description, readings and the questions of safety to be replaced;
// "survey start -fields" prints every field of every file with its words, ranges and units.
// Goods that are no web go by the same -line, and the forecast of a
// season has a file of its own. The calendar of weeks in the page is that of -season; of a
// dose the page says instead what the charge is at each humidity of the year.
//
// What it does not do. Of a sheet only the net of both faces goes along (an ioniser and a field
// meter see 0.13 % of what one face of 0.1 mm holds by itself): describe sheets as a web where
// their faces count. Patches of a body do not act on one another. A web has one air; where it is
// heated or cooled a station gives its own temperature (webTemperature), and the leak there follows
// the humidity at it: at 27 °C the water of 22 °C and 45 %RH is 33 %RH, and by 0.085 decades per %RH
// a leak takes ten times as long. What heat itself does to a resistivity is not in it, nor does an
// absorbing web dry on a stretch: their leaks need times that were measured there. Packages
// line/cure and line/survey say what follows from each.
//
// Exit status: 0 done, 2 bad input, 1 a failure of the program, 130 stopped by hand.
package main

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
)

//go:embed demo
var demo embed.FS

// options are the flags of all commands.
type options struct {
	line, survey, html, limit string
	site, season, days, care  string // files of the other commands
	answers, meter, out       string
	body, folder              string // of start
	fields                    bool
	changes, speed            string
	rate, cold                string // of goods
	aims                      bool   // the command has -chance
	chance                    float64
	faces                     bool
	json                      bool // what is printed
	system                    units.System
	tell                      bool // progress, also where standard error is no terminal
	progress                  *progress
	files                     files
	read                      *report.Input // a line and its survey, once they are read
}

// inputError is a fault of the input: exit status 2.
type inputError struct{ err error }

func (e *inputError) Error() string { return e.err.Error() }
func (e *inputError) Unwrap() error { return e.err }

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	done := make(chan int, 1)
	go func() { done <- run(os.Args[1:], os.Stdout, os.Stderr) }()
	select {
	case code := <-done:
		os.Exit(code)
	case <-ctx.Done():
		// A file that is being written is removed by package outfile, which ends the
		// program; everything else may stop at once.
		time.Sleep(50 * time.Millisecond)
		fmt.Fprintln(os.Stderr, "survey: stopped")
		os.Exit(130)
	}
}

func run(args []string, stdout, stderr io.Writer) int {
	c, o, err := parse(args, stderr)
	if errors.Is(err, flag.ErrHelp) {
		return 0
	}
	if err == nil {
		o.progress = watch(stderr, o.tell, time.Second)
		if err = o.round(); err == nil {
			err = c.work(o, stdout)
		}
		o.progress.end()
	}
	var bad *inputError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &bad):
		for _, fault := range folded(err) {
			fmt.Fprintln(stderr, "survey:", strings.ReplaceAll(fault, "\n", "\nsurvey: "))
		}
		return 2
	}
	fmt.Fprintln(stderr, "survey: failed:", err)
	return 1
}

// verdict is the bare command: what a survey means.
func verdict(o *options, stdout io.Writer) error {
	if g, err := goodsOf(o); err != nil {
		return err
	} else if g != nil {
		return goodsVerdict(o, g, stdout)
	}
	p, err := load(o)
	if err != nil {
		return &inputError{err}
	}
	if o.site != "" {
		site, err := o.answered()
		if err != nil {
			return err
		}
		p.Safety = &site.Safety
	}
	o.progress.at("writing the report")
	r, err := report.New(p, o.system)
	if err != nil {
		return err
	}
	var html []byte
	if o.html != "" {
		if html, err = o.page(r); err != nil {
			return err
		}
	}
	var out strings.Builder
	if o.json {
		err = r.JSON(&out)
	} else {
		err = r.Text(&out)
	}
	if err != nil {
		return err
	}
	return o.put(&out, html, stdout)
}

// page writes the report as a page, with a plan and a forecast as far as they are known.
func (o *options) page(r *report.Report) ([]byte, error) {
	years, err := o.pageYears()
	if err != nil {
		return nil, err
	}
	s, err := o.answered()
	if err != nil {
		return nil, err
	}
	a, err := o.aim()
	if err != nil {
		return nil, err
	}
	b, err := r.HTMLPlanned(o.progress.asking("planning"), &s, a, years)
	return b, ofAim(err)
}

// load reads, checks and diagnoses both files; errors name the file.
func load(o *options) (*report.Input, error) {
	p, err := o.read, error(nil) // in the round
	if p == nil {
		if p, _, err = o.web(); err != nil {
			return nil, err
		}
	}
	ctx := o.progress.asking("finding the source")
	if p.Diagnosis, err = survey.DiagnoseContext(ctx, p.Line, p.Survey); err != nil {
		return nil, named(p.Names[1], err)
	}
	return p, nil
}

// web reads and checks the description of a web and its survey: who writes both wants the faults of
// both in one round. Without -survey a description of the user's own stands alone.
func (o *options) web() (p *report.Input, d *line.Description, err error) {
	p = &report.Input{}
	b, name, err := o.files.read(o.line, "line.json")
	if err == nil {
		d, err = line.ReadDescription(bytes.NewReader(b))
	}
	var limit error
	if err == nil {
		limit = setLimit(d, o.limit)
		p.Line, err = line.New(d)
	}
	p.Names[0] = name
	errs := []error{limit, named(name, err)}
	if o.line == "" || o.survey != "" {
		b, name, err = o.files.read(o.survey, "survey.csv")
		if err == nil {
			p.Survey, err = survey.ReadSurveyOf(bytes.NewReader(b), d)
		}
		p.Names[1] = name
		errs = append(errs, named(name, err))
	}
	return p, d, errors.Join(errs...)
}

func setLimit(d *line.Description, s string) error {
	var kind line.LimitKind
	switch err := kind.UnmarshalText([]byte(s)); {
	case s == "":
	case err == nil && kind != line.OwnLimit:
		d.Limit = line.Limit{Kind: kind}
	default:
		v, err := flagged("-limit", s, units.SurfaceChargeDensity(1e-12), units.SurfaceChargeDensity(1e-2))
		if err != nil {
			return fmt.Errorf("%w; or cling, or \"5 kV/in\"", err)
		}
		d.Limit = line.Limit{Kind: line.OwnLimit, Net: v}
	}
	return nil
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
