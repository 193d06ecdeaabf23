//go:build unix

package profiles

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"text/tabwriter"
	"time"

	"gopkg.in/yaml.v3"

	"example.com/sawdatum/model"
	"example.com/sawdatum/profiles/text"
)

// years is a profile of a shop that has worked with it for long.
func years(records, blades int) model.Profile {
	p := chosenDemo()
	for i := len(p.Blades); i < blades; i++ {
		b := p.Blades[i%5]
		b.ID, b.Label = fmt.Sprintf("blade-%d", i), fmt.Sprintf("%s, the %dth", b.Label, i)
		p.Blades = append(p.Blades, b)
	}
	lock, on := "", model.Record{}
	for i := range records {
		r := model.Record{At: at(i * 60), By: []string{"KB", "AB", "JMS"}[i%3]}
		width := func(k int) model.Measure { return mm(119_900_000 + (i*7+k*13)%40*10_000) }
		blade := p.Blades[1+i/7%(len(p.Blades)-1)].ID
		switch i % 7 {
		case 0:
			lock = fmt.Sprintf("lock-%d", i)
			r.Kind, r.Lock, r.Width = model.FenceLock, lock, mm(120_000_000)
		case 1:
			r.Kind, r.Blade, r.Rings = model.Mount, "general-48", []string{"r10"}
			on = r
		case 3:
			r.Kind, r.Blade, r.Rings = model.Mount, blade, []string{"r10", "r20"}
			on = r
		case 2:
			r.Kind, r.Lock, r.Blade, r.Rings, r.Mounting, r.For, r.Readings = model.StripCut, lock, on.Blade, on.Rings, on.Ref(), model.Datum, []model.Measure{width(0), width(1), width(2)}
		case 4, 5:
			r.Kind, r.Lock, r.Blade, r.Rings, r.Mounting, r.For, r.Readings = model.StripCut, lock, on.Blade, on.Rings, on.Ref(), model.ForBlade, []model.Measure{width(3), width(4), width(5)}
		case 6:
			r.Kind, r.Text = model.Note, fmt.Sprintf("said in the morning, %d", i)
		}
		p.Records = append(p.Records, r)
	}
	return p
}

func parseOnly(data []byte) error {
	var n yaml.Node
	return yaml.NewDecoder(bytes.NewReader(data)).Decode(&n)
}

func loadAndFold(path string, data []byte) error {
	f, err := opened(path, data)
	if err == nil && len(model.Fold(f.Profile).Blades) == 0 {
		return fmt.Errorf("%s: nothing is folded", path)
	}
	return err
}

// cheapest is the least processor time of several runs of each work, turn by turn and
// each after a collection: what the work costs, whatever else the machine does.
func cheapest(t *testing.T, runs int, works ...func() error) []time.Duration {
	t.Helper()
	best := make([]time.Duration, len(works))
	for range runs {
		for i, work := range works {
			runtime.GC()
			start := processorTime()
			if err := work(); err != nil {
				t.Fatal(err)
			}
			if took := processorTime() - start; best[i] == 0 || took < best[i] {
				best[i] = took
			}
		}
	}
	return best
}

func processorTime() time.Duration {
	var u syscall.Rusage
	_ = syscall.Getrusage(syscall.RUSAGE_SELF, &u)
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

// TestScale measures what a profile of 10,000 records and 200 blades costs, in one
// run, and prints the table. It runs where SAWDATUM_SCALE is
// set: times are for a quiet machine to judge, and never decide in CI.
func TestScale(t *testing.T) {
	if os.Getenv("SAWDATUM_SCALE") == "" {
		t.Skip("SAWDATUM_SCALE is not set")
	}
	var table strings.Builder
	w := tabwriter.NewWriter(&table, 0, 8, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(w, "records\tKiB\tparse to nodes\tload and fold\tratio\tsave one more (middle)\tpeak memory\t")
	var loads []time.Duration
	for _, n := range []int{100, 1000, 10_000} {
		f := written(t, years(n, 200))
		best := cheapest(t, 9, func() error { return parseOnly(f.doc.Data) }, func() error { return loadAndFold(f.Path, f.doc.Data) })
		parse, load := best[0], best[1]
		kib := len(f.doc.Data) >> 10
		last := f.Profile.Records[n-1].At
		var saves []time.Duration
		for i := range 21 {
			next := plus(f.Profile, model.Record{At: last.Add(time.Duration(i+1) * time.Second), By: "KB", Kind: model.Note, Text: "one more"})
			start := time.Now()
			f = saved(t, f, next)
			saves = append(saves, time.Since(start))
		}
		slices.Sort(saves)
		save, peak := saves[0], peakOf(t, f.Path)
		ratio := float64(load) / float64(parse)
		fmt.Fprintf(w, "%d\t%d\t%.1f ms\t%.1f ms\t%.2f\t%.1f ms (%.1f)\t%d MB\t\n", n, kib, parse.Seconds()*1000, load.Seconds()*1000, ratio, save.Seconds()*1000, saves[len(saves)/2].Seconds()*1000, peak>>10)
		loads = append(loads, load)
		if n == 10_000 && ratio > 1.5 {
			t.Errorf("%d records: loading takes %.2f times what parsing takes", n, ratio)
		}
		if save > 20*time.Millisecond {
			t.Errorf("%d records: one more is saved in %v", n, save)
		}
		if peak > 128<<10 {
			t.Errorf("%d records: %d MB at the peak", n, peak>>10)
		}
	}
	_ = w.Flush()
	t.Logf("\n%s", table.String())
	if few, many := (loads[1]-loads[0])/900, (loads[2]-loads[1])/9000; many > 2*few {
		t.Errorf("not linear: up to 1,000 records one costs %v, up to 10,000 %v", few, many)
	}
}

// peakOf is the memory, in KiB, that a program took from the system which loads and
// folds a profile and does nothing else.
func peakOf(t *testing.T, path string) int64 {
	t.Helper()
	out, err := program(t, "load", path).Output()
	if err != nil {
		t.Fatal(err)
	}
	peak, err := strconv.ParseInt(strings.TrimSpace(string(out)), 10, 64)
	if err != nil {
		t.Fatal(err)
	}
	return peak
}

func loadOnce(path string) {
	f, err := Read(path)
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	model.Fold(f.Profile)
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	fmt.Println(m.Sys >> 10)
}

func BenchmarkLoad(b *testing.B) {
	for _, n := range []int{100, 1000, 10_000} {
		data := []byte(text.Format(years(n, 200)))
		b.Run(fmt.Sprintf("nodes/%d", n), func(b *testing.B) {
			for b.Loop() {
				if err := parseOnly(data); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(fmt.Sprintf("load/%d", n), func(b *testing.B) {
			for b.Loop() {
				if err := loadAndFold("bay.yaml", data); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkSaveOneMore(b *testing.B) {
	p := years(10_000, 200)
	f, err := Create(filepath.Join(b.TempDir(), "bay.yaml"), p)
	if err != nil {
		b.Fatal(err)
	}
	last := p.Records[len(p.Records)-1].At
	for b.Loop() {
		last = last.Add(time.Second)
		if f, _, err = f.Save(plus(f.Profile, model.Record{At: last, By: "KB", Kind: model.Note, Text: "one more"})); err != nil {
			b.Fatal(err)
		}
	}
}
