package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"sync"

	"example.org/pithball/units/known"
)

// codeCancelled is the error of a request that was cancelled.
const codeCancelled = -32800

// job is a request on its way, or the answer to what is none.
type job struct {
	*request
	answer *answer
	ctx    context.Context
	end    context.CancelFunc
}

// listen reads requests while one is computed, so that a cancel is heard. It reads one request ahead and no more: what
// a client sends beyond that waits in its pipe.
func (s *server) listen(ctx context.Context, work chan<- *job) error {
	var mu sync.Mutex
	open := map[string]context.CancelFunc{} // by id
	for {
		line, long, err := s.line()
		if err != nil && len(line) == 0 {
			if err == io.EOF {
				return nil
			}
			return err
		}
		q, a := s.read(line, long)
		if a == nil && q.Method == "cancel" {
			var p struct {
				ID json.RawMessage `json:"id"`
			}
			if json.Unmarshal(q.Params, &p) == nil {
				mu.Lock()
				if end := open[string(p.ID)]; end != nil {
					end()
				}
				mu.Unlock()
			}
			continue // a notification has no answer
		}
		j := &job{request: q, answer: a}
		var cancel context.CancelFunc
		j.ctx, cancel = context.WithCancel(ctx)
		id := string(q.ID)
		mu.Lock()
		open[id] = cancel
		mu.Unlock()
		j.end = func() {
			cancel()
			mu.Lock()
			delete(open, id)
			mu.Unlock()
		}
		select {
		case work <- j:
		case <-ctx.Done():
			return nil
		}
	}
}

// read takes a line and the frames that follow it apart; answer is the one to a line that is no request.
func (s *server) read(line []byte, long bool) (*request, *answer) {
	q := &request{}
	refuse := func(f *fault) (*request, *answer) {
		return q, &answer{JSONRPC: "2.0", ID: q.ID, Error: f}
	}
	if long {
		q.ID = idOf(line[:min(len(line), 1024)])
		return refuse(toFault(known.Wrong("request", fmt.Sprintf("a line above %d bytes", mostLine),
			"a shorter one; long columns as frames")))
	}
	if err := json.Unmarshal(line, q); err != nil {
		*q = request{ID: json.RawMessage("null")}
		return refuse(&fault{Code: -32700, Message: "not a JSON-RPC request: " + err.Error()})
	}
	if len(q.ID) == 0 {
		q.ID = json.RawMessage("null")
	}
	if err := s.frames(q); err != nil {
		return refuse(toFault(err))
	}
	return q, nil
}
