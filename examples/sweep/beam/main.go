// Command beam is the study of the folder above as a pipeline of Apache Beam: block numbers, a worker for each block,
// one exact sum. By default it runs inside this process on Beam's own runner (prism); -runner and the flags of the Go
// SDK take it to any other:
//
//	go run . -n 1000000 -out study.json
//	go run . -n 1000000000 -out /shared/study.json -runner flink -endpoint HOST:PORT
//
// A scenario is worked by the very code of the plain form, and the sum has its bits. It has been run on the embedded
// runner on one machine, not on a cluster. Line and survey travel inside the pipeline, so that workers need no files;
// the file of the sum is written by a worker, so that it must lie where all reach it.
package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"
	"time"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"
	_ "github.com/apache/beam/sdks/v2/go/pkg/beam/io/filesystem/local"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/io/textio"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/log"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/register"
	"github.com/apache/beam/sdks/v2/go/pkg/beam/x/beamx"

	"example.org/sweep/study"
)

// perGroup is how many block numbers a group stands for: the groups are written into the pipeline itself, which runners
// bound to a few megabytes.
const perGroup = 1024

func init() {
	register.DoFn2x0[uint64, func(uint64)](&spread{})
	register.DoFn2x1[uint64, func(string), error](&work{})
	register.Emitter1[uint64]()
	register.Emitter1[string]()
	register.Combiner1[string](&add{})
	register.Function2x2(whole)
}

// spread turns a group into the numbers of its blocks.
type spread struct{ Blocks uint64 }

// ProcessElement emits the blocks of group g.
func (s *spread) ProcessElement(g uint64, emit func(uint64)) {
	for k := g * perGroup; k < min((g+1)*perGroup, s.Blocks); k++ {
		emit(k)
	}
}

// job is what a worker must know.
type job struct {
	Line, Survey string
	Speeds       int
	N            uint64
}

// built holds the study of each job: the workers of one process share it.
var built sync.Map // job -> func() (*study.Study, error)

func (j job) study() (*study.Study, error) {
	f, _ := built.LoadOrStore(j, sync.OnceValues(func() (*study.Study, error) {
		return study.New(j.Line, j.Survey, j.Speeds)
	}))
	return f.(func() (*study.Study, error))()
}

// work works blocks. Sums travel as JSON, whose numbers keep every bit.
type work struct {
	Job job

	worker *study.Worker
}

// Setup builds the study on the worker.
func (w *work) Setup() error {
	s, err := w.Job.study()
	if err == nil {
		w.worker = s.NewWorker(w.Job.N)
	}
	return err
}

// ProcessElement works block k.
func (w *work) ProcessElement(k uint64, emit func(string)) error {
	from := k * study.BlockOf
	b, err := w.worker.Block(from, min(from+study.BlockOf, w.Job.N))
	if err != nil {
		return err
	}
	text, err := json.Marshal(study.Sum{Block: b, Of: b.To - b.From})
	if err != nil {
		return err
	}
	emit(string(text))
	return nil
}

// add adds sums up, in any order and grouping.
type add struct{}

// MergeAccumulators adds two sums.
func (*add) MergeAccumulators(a, b string) (string, error) {
	var x, y study.Sum
	if err := json.Unmarshal([]byte(a), &x); err != nil {
		return "", err
	}
	if err := json.Unmarshal([]byte(b), &y); err != nil {
		return "", err
	}
	s, err := x.Plus(y)
	if err != nil {
		return "", err
	}
	text, err := json.Marshal(s)
	return string(text), err
}

// whole returns the study of n scenarios as sweep prints it, and an error, which fails the pipeline, if the sum has
// fewer or more: a sum that is not the study is never written.
func whole(n uint64, text string) (string, error) {
	var s study.Sum
	if err := json.Unmarshal([]byte(text), &s); err != nil {
		return "", err
	}
	b, err := s.Whole(n)
	if err != nil {
		return "", err
	}
	line, err := json.Marshal(b)
	return string(line), err
}

// pipeline builds the study into a file.
func pipeline(j job, out string) *beam.Pipeline {
	p, s := beam.NewPipelineWithRoot()
	blocks := (j.N + study.BlockOf - 1) / study.BlockOf
	var groups []uint64
	for g := uint64(0); g*perGroup < blocks; g++ {
		groups = append(groups, g)
	}
	numbers := beam.ParDo(s, &spread{Blocks: blocks}, beam.CreateList(s, groups))
	// A shuffle, so that workers share the blocks and are not handed them with their group.
	sums := beam.ParDo(s, &work{Job: j}, beam.Reshuffle(s, numbers))
	sum := beam.Combine(s, &add{}, sums)
	textio.Write(s, out, beam.ParDo(s, whole, beam.Create(s, j.N), beam.SideInput{Input: sum}))
	return p
}

func main() {
	n := flag.Uint64("n", 100_000, "scenarios of the whole study")
	out := flag.String("out", "", "file for the sum")
	demo := flag.String("demo", "../../survey/demo", "folder with line.json and survey.csv")
	speeds := flag.Int("speeds", 1, "speeds at which a scenario runs its line")
	verbose := flag.Bool("v", false, "show what Beam logs below a warning")
	flag.Parse()
	if !*verbose {
		log.LogLevel = "warn"
	}
	beam.Init()
	if err := run(context.Background(), *demo, *speeds, *n, *out, os.Stderr); err != nil {
		fmt.Fprintln(os.Stderr, "beam:", err)
		os.Exit(1)
	}
}

func run(ctx context.Context, demo string, speeds int, n uint64, out string, stderr io.Writer) error {
	if out == "" {
		return fmt.Errorf("-out: empty: want the file for the sum")
	}
	if n == 0 || n > 1<<40 {
		return fmt.Errorf("-n: %d: want 1 … %d", n, uint64(1)<<40)
	}
	l, err := os.ReadFile(filepath.Join(demo, "line.json"))
	if err != nil {
		return err
	}
	r, err := os.ReadFile(filepath.Join(demo, "survey.csv"))
	if err != nil {
		return err
	}
	j := job{Line: string(l), Survey: string(r), Speeds: speeds, N: n}
	if _, err := j.study(); err != nil { // said here and not by a worker far away
		return err
	}
	start := time.Now()
	if err := beamx.Run(ctx, pipeline(j, out)); err != nil {
		return err
	}
	fmt.Fprintln(stderr, study.Cost(n, time.Since(start)))
	return nil
}
