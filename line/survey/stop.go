package survey

import (
	"context"

	"example.org/pithball/internal/progress"
	"example.org/pithball/line"
)

// stopped is the panic by which a diagnosis ends early, out of whatever depth; it never leaves [DiagnoseContext].
type stopped struct{}

// check ends the diagnosis if nobody waits for it any more. It stands where a survey at its limits (100,000 readings,
// 1,000 stations) spends at most a few tenths of a second until the next one.
func (d *Diagnosis) check() {
	if d.stop != nil && d.stop() {
		panic(stopped{})
	}
}

// begin tells the part of the work that begins, in so many steps, to whoever asks; 0: nobody knows how many.
func (d *Diagnosis) begin(part string, steps int) *progress.Counter {
	if d.asked == nil {
		return nil
	}
	return progress.Begin(d.asked, part, steps)
}

// DiagnoseContext is [Diagnose] that ends soon after ctx does; its error is then that of ctx. For a survey of the usual
// size, some ten milliseconds of work, [Diagnose] does.
func DiagnoseContext(ctx context.Context, l *line.Line, s *Survey) (d *Diagnosis, err error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	var stop func() bool
	if ctx.Done() != nil {
		stop = func() bool { return ctx.Err() != nil }
	}
	defer func() {
		if p := recover(); p != nil {
			if _, ok := p.(stopped); !ok {
				panic(p)
			}
			d, err = nil, ctx.Err()
		}
	}()
	d = &Diagnosis{stop: stop}
	if progress.Asked(ctx) {
		d.asked = ctx
	}
	if err := d.find(l, s); err != nil {
		return nil, err
	}
	return d, nil
}
