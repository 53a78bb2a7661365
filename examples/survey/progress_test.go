package main

import (
	"bytes"
	"strings"
	"sync"
	"testing"
	"time"

	far "example.org/pithball/internal/progress"
)

// said is a terminal that a test reads while it is written to.
type said struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *said) Write(b []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(b)
}

func (s *said) text() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// TestProgressParts: what a stage tells of its parts stands behind its name until the next stage begins; where nobody
// looks nothing is asked.
func TestProgressParts(t *testing.T) {
	var b said
	p := watch(&b, true, time.Millisecond)
	lines := func(want string) {
		t.Helper()
		for range 2000 { // as long as a busy machine needs
			time.Sleep(5 * time.Millisecond)
			if strings.Contains(b.text(), want) {
				return
			}
		}
		t.Errorf("no %q in %.300q", want, b.text())
	}
	far.Begin(p.asking("planning"), "trying changes", 5).Next()
	lines("survey: planning: trying changes 20 %, ")
	far.Begin(p.asking("planning"), "adding cures", 0)
	lines("survey: planning: adding cures, ")
	p.at("writing the report")
	lines("survey: writing the report, ")
	p.end()
	var none *progress
	for _, p := range []*progress{none, watch(&b, false, time.Millisecond)} {
		if far.Asked(p.asking("planning")) {
			t.Error("nobody looks, and somebody asks")
		}
	}
}
