package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"sync"
	"time"

	far "example.org/pithball/internal/progress"
)

// progress tells what a long run is at: a line a second on standard error, where that is
// a terminal or -progress asks for it. A short run says nothing.
type progress struct {
	mu    sync.Mutex
	stage string
	part  string // of the stage, with the share of it that is done
	done  chan struct{}
	ended chan struct{}
}

// watch begins to tell; end must be called.
func watch(w io.Writer, asked bool, every time.Duration) *progress {
	p := &progress{stage: "reading"}
	if f, ok := w.(*os.File); !asked {
		if !ok {
			return p
		}
		if info, err := f.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 {
			return p
		}
	}
	p.done, p.ended = make(chan struct{}), make(chan struct{})
	begin := time.Now()
	go func() {
		defer close(p.ended)
		t := time.NewTicker(every)
		defer t.Stop()
		for {
			select {
			case <-p.done:
				return
			case <-t.C:
				p.mu.Lock()
				stage := p.stage + p.part
				p.mu.Unlock()
				fmt.Fprintf(w, "survey: %s, %.0f s\n", stage, time.Since(begin).Seconds())
			}
		}
	}()
	return p
}

// at says which part of the work begins; p may be nil.
func (p *progress) at(stage string) {
	if p == nil {
		return
	}
	p.mu.Lock()
	p.stage, p.part = stage, ""
	p.mu.Unlock()
}

// asking is at, with the context by which the work tells its parts; p may be nil.
func (p *progress) asking(stage string) context.Context {
	p.at(stage)
	if p == nil || p.done == nil {
		return context.Background() // nobody looks
	}
	return far.With(context.Background(), func(part string, share float64) {
		text := ": " + part
		if !math.IsNaN(share) {
			text += fmt.Sprintf(" %.0f %%", 100*share)
		}
		p.mu.Lock()
		p.part = text
		p.mu.Unlock()
	})
}

func (p *progress) end() {
	if p.done != nil {
		close(p.done)
		<-p.ended
	}
}
