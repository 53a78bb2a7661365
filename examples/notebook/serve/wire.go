package main

import (
	"bufio"
	"bytes"
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"runtime/debug"
	"strconv"
	"time"

	"example.org/pithball/examples/registry"
	"example.org/pithball/internal/strictjson"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

const (
	version   = "2"
	mostLine  = 64 << 20 // bytes of a request's line: a description and a survey at their limits and more
	mostFrame = 1 << 24  // float64s in one frame
	mostAll   = 1 << 26  // float64s in all frames of a request
)

type request struct {
	JSONRPC string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Method  string          `json:"method"`
	Params  json.RawMessage `json:"params"`
	Frames  []int           `json:"frames"`

	columns [][]float64 // the frames
}

type answer struct {
	JSONRPC string          `json:"jsonrpc"`
	ID      json.RawMessage `json:"id"`
	Result  any             `json:"result,omitempty"`
	Error   *fault          `json:"error,omitempty"`
	Frames  []int           `json:"frames,omitempty"`

	columns [][]float64
}

type fault struct {
	Code    int            `json:"code"`
	Message string         `json:"message"`
	Data    map[string]any `json:"data,omitempty"`
}

// server is one conversation.
type server struct {
	find func(name string) *compute.Entry
	in   *bufio.Reader
	out  *bufio.Writer
	raw  []byte // of frames that are written

	reading []byte        // of frames that are read
	often   time.Duration // at least, between two messages of progress
}

func serve(in io.Reader, out io.Writer) error {
	s := &server{find: registry.Find, often: time.Second,
		in: bufio.NewReaderSize(in, 1<<16), out: bufio.NewWriterSize(out, 1<<16)}
	work := make(chan *job, 1)
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var fault error
	go func() { fault = s.listen(ctx, work); close(work) }()
	for j := range work {
		a := j.answer
		if a == nil {
			a = s.reply(j.ctx, j.request)
		}
		j.end()
		if err := s.write(a); err != nil {
			return err
		}
	}
	return fault
}

// line reads one line; of a line that is too long it returns the beginning.
func (s *server) line() (line []byte, long bool, err error) {
	for {
		part, err := s.in.ReadSlice('\n')
		if len(line)+len(part) > mostLine {
			long = true
		}
		if !long || len(line) < 1024 {
			line = append(line, part[:min(len(part), mostLine-len(line))]...)
		}
		if err != bufio.ErrBufferFull {
			return line, long, err
		}
	}
}

// idOf finds the number of a request that cannot be read as a whole, null if there is none.
func idOf(line []byte) json.RawMessage {
	const most = 18 // digits
	for {
		_, rest, found := bytes.Cut(line, []byte(`"id"`))
		if !found {
			return json.RawMessage("null")
		}
		line = rest
		rest, found = bytes.CutPrefix(bytes.TrimLeft(rest, " \t"), []byte(":"))
		rest = bytes.TrimLeft(rest, " \t")
		n := len(rest) - len(bytes.TrimLeft(rest, "0123456789"))
		if found && n > 0 && n <= most && n < len(rest) && bytes.IndexByte([]byte(" \t,}"), rest[n]) >= 0 {
			return json.RawMessage(rest[:n:n])
		}
	}
}

// reply answers a request; it ends early when ctx does.
func (s *server) reply(ctx context.Context, q *request) (a *answer) {
	a = &answer{JSONRPC: "2.0", ID: q.ID}
	defer func() {
		// One bad question must not take the others down; the computations promise not to panic.
		if p := recover(); p != nil {
			a.Result, a.Frames, a.columns = nil, nil, nil
			a.Error = &fault{Code: -32603, Message: fmt.Sprintf("a fault of pithball itself: %v", p),
				Data: map[string]any{"stack": string(debug.Stack())}}
		}
	}()
	result, columns, err := s.call(ctx, q)
	if err != nil {
		a.Error = toFault(err)
		return a
	}
	a.Result, a.columns = result, columns
	for _, c := range columns {
		a.Frames = append(a.Frames, len(c))
	}
	return a
}

// frames reads what follows the line; what is too long is read and dropped.
func (s *server) frames(q *request) error {
	all := 0
	for _, n := range q.Frames {
		if n < 0 || n > math.MaxInt/8-all {
			return known.Wrong("frames", n, "the number of values that follow")
		}
		all += n
	}
	for i, n := range q.Frames {
		if all > mostAll || n > mostFrame {
			if _, err := io.CopyN(io.Discard, s.in, int64(n)*8); err != nil {
				return err
			}
			if i == len(q.Frames)-1 {
				return known.Wrong("frames", strconv.Itoa(all)+" values",
					fmt.Sprintf("at most %d in one frame and %d in all", mostFrame, mostAll))
			}
			continue
		}
		c := make([]float64, n)
		for at := 0; at < n; {
			part := min(n-at, 1<<16)
			if cap(s.reading) < part*8 {
				s.reading = make([]byte, part*8)
			}
			b := s.reading[:part*8]
			if _, err := io.ReadFull(s.in, b); err != nil {
				return err
			}
			for k := range part {
				c[at+k] = math.Float64frombits(binary.LittleEndian.Uint64(b[8*k:]))
			}
			at += part
		}
		q.columns = append(q.columns, c)
	}
	return nil
}

func (s *server) write(a *answer) error {
	if err := json.NewEncoder(s.out).Encode(a); err != nil {
		return err
	}
	for _, c := range a.columns {
		for len(c) > 0 {
			part := c[:min(len(c), 1<<16)]
			if cap(s.raw) < len(part)*8 {
				s.raw = make([]byte, len(part)*8)
			}
			b := s.raw[:len(part)*8]
			for k, v := range part {
				binary.LittleEndian.PutUint64(b[8*k:], math.Float64bits(v))
			}
			if _, err := s.out.Write(b); err != nil {
				return err
			}
			c = c[len(part):]
		}
	}
	return s.out.Flush()
}

var errMethod = errors.New("unknown method: want hello, entry, compute, describe, survey, decide, forecast, " +
	"compare or cancel")

func toFault(err error) *fault {
	f := &fault{Code: -32602, Message: err.Error()}
	switch {
	case errors.Is(err, errMethod):
		f.Code = -32601
	case errors.Is(err, context.Canceled):
		f.Code, f.Message = codeCancelled, "cancelled"
	}
	var r *rowError
	var k *known.FieldError
	var form *strictjson.Error
	if !errors.As(err, &k) && errors.As(err, &form) { // of a description, which has its line in the message
		field := form.Path
		if field == "" {
			field = "line"
		}
		errors.As(ofForm(field, form), &k)
		f.Data = map[string]any{"field": k.Field, "value": k.Value, "want": k.Want}
	} else if errors.As(err, &k) {
		f.Data = map[string]any{"field": k.Field, "value": k.Value, "want": k.Want}
	}
	if errors.As(err, &r) && f.Data != nil {
		f.Data["row"] = r.row
	}
	return f
}

// number writes NaN and Inf as null.
type number float64

func (n number) MarshalJSON() ([]byte, error) {
	if math.IsNaN(float64(n)) || math.IsInf(float64(n), 0) {
		return []byte("null"), nil
	}
	return json.Marshal(float64(n))
}
