package main

import (
	"context"
	"encoding/json"
	"math"
	"sync"
	"time"

	"example.org/pithball/internal/progress"
)

// progress tells how far a column is.
func (s *server) progress(done, rows int) error {
	return s.told(map[string]any{"done": done, "rows": rows})
}

// told sends how far something is.
func (s *server) told(params map[string]any) error {
	err := json.NewEncoder(s.out).Encode(map[string]any{"jsonrpc": "2.0", "method": "progress", "params": params})
	if err != nil {
		return err
	}
	return s.out.Flush()
}

// telling returns a context whose work tells how far it is, and what must be called when the work has ended. What it
// told last is sent every s.often, by a goroutine that begins with the first word: a short computation has none.
func (s *server) telling(ctx context.Context) (context.Context, func()) {
	var mu sync.Mutex
	var last map[string]any
	var end, ended chan struct{}
	send := func() bool {
		mu.Lock()
		p := last
		mu.Unlock()
		return s.told(p) == nil // if not, the answer will tell it
	}
	tell := func(part string, share float64) {
		p := map[string]any{}
		if part != "" {
			p["part"] = part
		}
		if !math.IsNaN(share) {
			p["share"] = share
		}
		mu.Lock()
		last = p
		mu.Unlock()
		if s.often == 0 { // each word
			send()
			return
		}
		if end != nil {
			return
		}
		end, ended = make(chan struct{}), make(chan struct{})
		go func() {
			defer close(ended)
			t := time.NewTicker(s.often)
			defer t.Stop()
			for {
				select {
				case <-end:
					return
				case <-t.C:
					if !send() {
						return
					}
				}
			}
		}()
	}
	return progress.With(ctx, tell), func() {
		if end != nil {
			close(end)
			<-ended
		}
	}
}
