package proof

import (
	"bytes"
	"context"
	"image/jpeg"
	"io/fs"
	"testing"
	"time"

	"unspool/demo"
	"unspool/design"
	"unspool/grade"
	"unspool/roster"
)

// sundhaven is the demo programme, in memory.
func sundhaven(b testing.TB, cards int, o Options) (*Proof, []Row) {
	b.Helper()
	have := files{}
	for f := range demo.Files(cards) {
		data, err := f.Make()
		if err != nil {
			b.Fatal(err)
		}
		have[f.Name] = data
	}
	p, err := design.Parse("programme.yaml", have["programme.yaml"])
	if err != nil {
		b.Fatal(err)
	}
	people, err := roster.ReadCSV("crew.csv", have["crew.csv"], roster.Options{})
	if err != nil {
		b.Fatal(err)
	}
	pf, err := New(p, have, o)
	if err != nil {
		b.Fatal(err)
	}
	rows := make([]Row, len(people.Rows))
	for i, r := range people.Rows {
		rows[i] = Row{Key: r.Field("number"), Person: p.Person(r)}
	}
	return pf, rows
}

// BenchmarkCard proves one card on one core: front with a 480 x 640 photo and a
// Code 39, back with a Code 128, three readers. It reports the ratio to decoding
// the photo alone, measured in the same run.
func BenchmarkCard(b *testing.B) {
	pf, rows := sundhaven(b, 8, Options{Edition: grade.Ed2016})
	w := pf.Worker()
	prove := func(i int) {
		if _, err := w.Card(i, rows[i%len(rows)]); err != nil {
			b.Fatal(err)
		}
	}
	prove(0) // what no card changes
	photos := pf.sidePhotos(b, rows)
	var card, decode time.Duration
	n := 0
	for b.Loop() {
		t := time.Now()
		prove(n)
		card += time.Since(t)
		t = time.Now()
		if _, err := jpeg.Decode(bytes.NewReader(photos[n%len(photos)])); err != nil {
			b.Fatal(err)
		}
		decode += time.Since(t)
		n++
	}
	b.ReportMetric(card.Seconds()*1000/float64(n), "ms/card")
	b.ReportMetric(card.Seconds()/decode.Seconds(), "x-photo-decode")
}

// sidePhotos is the photo of every row.
func (pf *Proof) sidePhotos(b testing.TB, rows []Row) (photos [][]byte) {
	b.Helper()
	for i := range rows {
		for f := range demo.Files(len(rows)) {
			if f.Name != "photos/"+rows[i].Person.Field("photo") {
				continue
			}
			data, err := f.Make()
			if err != nil {
				b.Fatal(err)
			}
			photos = append(photos, data)
		}
	}
	if len(photos) != len(rows) {
		b.Fatal(fs.ErrNotExist)
	}
	return photos
}

// The dear parts, each for one card: advice on the black rule, and margins with
// the loss of single head elements.
func BenchmarkAdvice(b *testing.B) {
	pf, rows := sundhaven(b, 8, Options{Edition: grade.Ed2016, Advice: true})
	benchCards(b, pf, rows)
}

func BenchmarkMargins(b *testing.B) {
	pf, rows := sundhaven(b, 8, Options{Edition: grade.Ed2016})
	for i := range rows {
		rows[i].Margins = true
	}
	benchCards(b, pf, rows)
}

func benchCards(b *testing.B, pf *Proof, rows []Row) {
	w := pf.Worker()
	n := 0
	for b.Loop() {
		if _, err := w.Card(n, rows[n%len(rows)]); err != nil {
			b.Fatal(err)
		}
		n++
	}
}

// BenchmarkRun proves a run on all cores; the time of a card must not depend on
// how many there are.
func BenchmarkRun(b *testing.B) {
	for _, cards := range []int{100, 1000} {
		pf, some := sundhaven(b, 60, Options{Edition: grade.Ed2016})
		rows := make([]Row, cards)
		for i := range rows {
			rows[i] = some[i%len(some)]
		}
		b.Run(map[int]string{100: "100", 1000: "1000"}[cards], func(b *testing.B) {
			for b.Loop() {
				t := pf.Tally()
				if err := pf.Run(context.Background(), rows, 2, func(c Card) error { t.Add(c); return nil }); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Microseconds())/1000/float64(b.N)/float64(cards), "ms/card")
		})
	}
}
