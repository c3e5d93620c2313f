package main

import (
	"cmp"
	"context"
	"fmt"
	"runtime"
	"slices"
	"strconv"

	"golang.org/x/sync/errgroup"

	"unspool/demo"
	"unspool/proof"
	"unspool/report"
)

// mostSamples is how many cards a report shows in pictures.
const mostSamples = 3

// samples draws the cards that the report shows: an invented person or, when
// asked for, the cards with the gravest findings.
func (r *running) samples(sum *proof.Summary) ([]report.Sample, error) {
	if len(r.rows) == 0 {
		return nil, nil
	}
	if !r.cmd.Real {
		who := proof.Row{Person: r.f.Programme.Invented(r.rows[0].Person)}
		v, err := r.pf.Viewer(proof.ViewOptions{Broken: true, Portrait: demo.Portrait(), Lamps: report.Lamps(r.pf.Readers)})
		if err != nil {
			return nil, err
		}
		views, err := v.View(who)
		return []report.Sample{{Row: -1, Title: "An invented person, with codes broken on purpose", Views: views}}, err
	}
	v, err := r.pf.Viewer(proof.ViewOptions{Lamps: report.Lamps(r.pf.Readers)})
	if err != nil {
		return nil, err
	}
	var out []report.Sample
	for _, row := range worth(sum) {
		views, err := v.View(r.rows[row])
		if err != nil {
			return nil, err
		}
		out = append(out, report.Sample{Row: row, Title: "Card of row " + strconv.Itoa(row+1), Views: views})
	}
	return out, nil
}

// worth is the rows worth showing: the first card of each of the gravest
// findings, else the first card of the run.
func worth(sum *proof.Summary) (rows []int) {
	for _, g := range sum.Groups {
		if g.Level == proof.Stop && len(g.Rows) > 0 && !slices.Contains(rows, g.Rows[0]) && len(rows) < mostSamples {
			rows = append(rows, g.Rows[0])
		}
	}
	if rows == nil {
		rows = []int{0}
	}
	return rows
}

// pictures writes PNG files of the cards that were asked for and, where they are
// cards of the roster, the web of the run.
func (r *running) pictures(ctx context.Context, samples []report.Sample) error {
	var rows []int
	switch r.cmd.Pictures {
	case "none":
		return nil
	case "sample":
		for _, s := range samples {
			if err := r.draw("sample", s.Views); err != nil {
				return err
			}
		}
		return nil
	case "findings":
		rows = r.found
	case "all":
		rows = make([]int, len(r.rows))
		for i := range rows {
			rows[i] = i
		}
	}
	web, err := r.drawRows(ctx, rows)
	if err != nil {
		return err
	}
	page, err := report.RunWeb(r.f.Programme, web, r.cmd.Pictures == "all")
	if err != nil {
		return err
	}
	return r.out.Write("ribbon-run.html", page)
}

// drawRows draws cards on all cores and gives the frames of their web.
func (r *running) drawRows(ctx context.Context, rows []int) ([]report.RunFrame, error) {
	digits := len(strconv.Itoa(len(r.rows)))
	frames := make([][]report.RunFrame, len(rows))
	next := make(chan int)
	bar := progress(r.con, "drawing", len(rows), "cards")
	defer bar.done()
	var group errgroup.Group
	group.Go(func() error {
		defer close(next)
		for i := range rows {
			if err := ctx.Err(); err != nil {
				return err
			}
			next <- i
		}
		return nil
	})
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() (err error) {
			v, failed := r.pf.Viewer(proof.ViewOptions{Lamps: report.Lamps(r.pf.Readers)})
			for i := range next { // to the end also after an error, so that the sender ends
				if err = cmp.Or(err, failed); err != nil {
					continue
				}
				name := fmt.Sprintf("row-%0*d", digits, rows[i]+1)
				views, bad := v.View(r.rows[rows[i]])
				if err = cmp.Or(bad, r.draw(name, views)); err == nil {
					frames[i] = report.RunFrames(views, rows[i], rows[i]*r.pf.Frames()+1, "pictures/"+name+"-")
					bar.step()
				}
			}
			return err
		})
	}
	err := group.Wait()
	return slices.Concat(frames...), err
}

func (r *running) draw(name string, views []proof.View) error {
	for _, v := range views {
		for _, p := range report.Pictures(v) {
			if err := r.out.Write("pictures/"+name+"-"+v.Side.String()+"-"+p.Name+".png", p.PNG); err != nil {
				return err
			}
		}
	}
	return nil
}
