package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"unspool/folder"
	"unspool/grade"
	"unspool/proof"
	"unspool/report"
	"unspool/site"
)

// proofCmd proves a programme: the main job.
type proofCmd struct {
	Programme string `arg:"" help:"Programme folder, or its card file."`
	Out       string `short:"o" placeholder:"DIR" help:"Folder for the results (default: proof, inside the programme folder)."`
	Pictures  string `enum:"sample,findings,all,none" default:"sample" help:"What to draw as PNG files: a sample, the cards with findings or all of them (both with --real), or none."`
	Real      bool   `help:"Show real people and whole codes in pictures. Such pictures are working credentials."`
	Edition   string `enum:"2000,2016" default:"2016" help:"Edition of ISO/IEC 15416 whose grades are given."`
	Margins   int    `default:"3" help:"For how many cards to work out what is to spare and which head elements matter."`
	Advice    bool   `default:"true" negatable:"" help:"Try every black rule on every card."`
	JSON      bool   `name:"json" help:"Write the summary as JSON to standard output."`
}

// Help is shown below the flags.
func (proofCmd) Help() string {
	return `Example:
  unspool proof sundhaven -o results

Writes report.html, ribbon.html, ribbon.pdf, explanation.pdf, proof.json,
cards.csv and pictures. The exit status is 0 where nothing stops the run and 1
where a finding does.`
}

// Run proves the programme and says what came of it.
func (c *proofCmd) Run(ctx context.Context, con *console) error {
	if (c.Pictures == "all" || c.Pictures == "findings") && !c.Real {
		return fmt.Errorf("--pictures %s draws real people with codes that read; add --real if that is meant, and keep the pictures like the cards", c.Pictures)
	}
	f, err := folder.Open(c.Programme)
	if err != nil {
		return err
	}
	defer f.Close()
	in, err := c.prove(ctx, con, f, c.out())
	if err != nil {
		return err
	}
	sum := in.Summary
	if c.JSON {
		return errors.Join(report.SummaryJSON(con.Stdout, sum), stopped(sum))
	}
	say(con, sum, filepath.Join(c.out(), "report.html"))
	return stopped(sum)
}

func stopped(s *proof.Summary) error {
	if s.Good() {
		return nil
	}
	return errFindings
}

// out is the folder of the results.
func (c *proofCmd) out() string {
	if c.Out != "" {
		return c.Out
	}
	if info, err := os.Stat(c.Programme); err == nil && !info.IsDir() {
		return filepath.Join(filepath.Dir(c.Programme), "proof")
	}
	return filepath.Join(c.Programme, "proof")
}

// prove runs the proof, writes the results to the folder out and gives what its
// report shows.
func (c *proofCmd) prove(ctx context.Context, con *console, f *folder.Folder, out string) (in report.Input, err error) {
	pf, err := proof.New(f.Programme, f, proof.Options{Edition: c.edition(), Advice: c.Advice})
	if err != nil {
		return in, err
	}
	o, err := folder.Create(out)
	if err != nil {
		return in, err
	}
	defer o.Abandon()
	run := running{cmd: c, con: con, pf: pf, f: f, out: o, rows: f.Rows(), tally: pf.Tally()}
	if err := run.cards(ctx); err != nil {
		return in, err
	}
	if in, err = run.write(ctx, run.tally.Summary()); err != nil {
		return in, err
	}
	return in, o.Commit()
}

func (c *proofCmd) edition() grade.Edition {
	if c.Edition == "2000" {
		return grade.Ed2000
	}
	return grade.Ed2016
}

// running is one proof on its way to a folder of results.
type running struct {
	cmd   *proofCmd
	con   *console
	pf    *proof.Proof
	f     *folder.Folder
	out   *folder.Output
	rows  []proof.Row
	tally *proof.Tally
	found []int // rows to draw because of findings
}

// cards proves every card, writing cards.csv and proof.json as they come.
func (r *running) cards(ctx context.Context) error {
	for _, i := range spread(len(r.rows), r.cmd.Margins) {
		r.rows[i].Margins = true
	}
	table, err := r.out.Open("cards.csv")
	if err != nil {
		return err
	}
	defer table.Close()
	tree, err := r.out.Open("proof.json")
	if err != nil {
		return err
	}
	defer tree.Close()
	csv, json := report.NewCSV(table, r.pf.Codes, r.pf.Readers), report.NewJSON(tree, r.pf.Codes, r.pf.Readers)
	r.tally.Note(r.pf.Fixed()...)
	bar := progress(r.con, "proving", len(r.rows), "cards")
	defer bar.done()
	err = r.pf.Run(ctx, r.rows, runtime.GOMAXPROCS(0), func(c proof.Card) error {
		bar.step()
		r.tally.Add(c)
		if slices.ContainsFunc(c.Findings, func(f proof.Finding) bool { return f.Level > proof.Note }) {
			r.found = append(r.found, c.Row)
		}
		return cmp.Or(csv.Add(c), json.Add(c))
	})
	if err != nil {
		return err
	}
	return cmp.Or(csv.Close(), json.Close(r.tally.Summary()), table.Close(), tree.Close())
}

// spread is n places spread evenly over a run of cards.
func spread(cards, n int) []int {
	n = min(n, cards)
	at := make([]int, 0, max(n, 0))
	for i := range n {
		at = append(at, i*cards/n)
	}
	return at
}

// write draws the pictures and writes the pages.
func (r *running) write(ctx context.Context, sum *proof.Summary) (in report.Input, err error) {
	in = report.Input{Summary: sum, Invented: !r.cmd.Real, Command: "unspool proof", Beside: []string{"cards.csv", "ribbon.pdf"}}
	if in.Samples, err = r.samples(sum); err != nil {
		return in, err
	}
	page, err := report.HTML(in)
	if err != nil {
		return in, err
	}
	web, err := report.RibbonSheets(in)
	if err != nil {
		return in, err
	}
	if err := cmp.Or(r.out.Write("report.html", page), r.out.Write("ribbon.html", web), r.paper(in)); err != nil {
		return in, err
	}
	return in, r.pictures(ctx, in.Samples)
}

// say writes the verdict, why, what to do and where the details are.
func say(con *console, s *proof.Summary, where string) {
	out := con.Stdout
	p := s.Programme
	fmt.Fprintf(out, "%s: %s, ribbon %s, %s\n\n", p.Name, count(s.Cards, "card"), site.Letters(p.Ribbon.Panels), rules(s))
	h := report.Head(s)
	fmt.Fprintf(out, "%s  %s: %s\n", bars(h.Verdict), h.Word, h.Why)
	if h.Reason != "" {
		fmt.Fprintf(out, "   %s\n", h.Reason)
	}
	for _, do := range h.Do {
		fmt.Fprintf(out, "   -> %s\n", do)
	}
	fmt.Fprintln(out, "\nReaders (predicted, before wear and print faults):")
	sayReadings(con, s)
	fmt.Fprintln(out)
	for groups := range alike(s.Groups) {
		sayGroups(con, groups)
	}
	fmt.Fprintf(out, "details: %s\n", where)
}

// sayReadings writes a line for every code and reader that belong together.
func sayReadings(con *console, s *proof.Summary) {
	for _, c := range s.Cells {
		if c.Verdict() == proof.NotMeant {
			continue
		}
		grade := "no grade"
		if c.Worst.Grade.Text != "" {
			grade = "lowest " + c.Worst.Grade.Text
		}
		fmt.Fprintf(con.Stdout, "  %s  %-16s %-14s %-28s %s\n", bars(c.Verdict()), s.Readers[c.Reader].Name, s.Codes[c.Code].Name, c.Verdict(), grade)
		if c.Verdict() != proof.Reads {
			fmt.Fprintf(con.Stdout, "     %s\n", c.Worst.Cause.Reason)
		}
	}
}

// alike yields the findings to look at, those together that say the same of
// several places.
func alike(groups []proof.Group) iter.Seq[[]proof.Group] {
	return func(yield func([]proof.Group) bool) {
		for i := 0; i < len(groups) && groups[i].Level > proof.Note; {
			n := i + 1
			for n < len(groups) && groups[n].ID == groups[i].ID && groups[n].Level == groups[i].Level && groups[n].Detail.String() == groups[i].Detail.String() {
				n++
			}
			if !yield(groups[i:n]) {
				return
			}
			i = n
		}
	}
}

func sayGroups(con *console, groups []proof.Group) {
	g := groups[0]
	var at []string
	cards := 0
	for _, g := range groups {
		at = append(at, place(g))
		cards = max(cards, g.Cards)
	}
	on := ""
	if cards > 0 {
		on = ": " + count(cards, "card")
	}
	fmt.Fprintf(con.Stdout, "%-4s  %s (%s)%s\n      %s\n      -> %s\n\n", g.Level, proof.About(g.ID).Title, strings.Join(at, ", "), on, g.Detail, g.Advise())
}

// place says where a finding is: the element, the reader, the side; of the
// roster's and the run's own nothing more is to be said.
func place(g proof.Group) string {
	switch {
	case g.Element != "" && g.Reader != "":
		return g.Element + " at " + g.Reader
	case g.Roster:
		return "roster"
	}
	return cmp.Or(g.Element, g.Reader, g.Side.String())
}

// bars is the sign of a verdict: a solid bar, half a bar, a hollow one.
func bars(v proof.Verdict) string {
	return [...]string{" ", "█", "▄", "▯"}[v%4]
}

func count(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}

// rules names the black rule, or that of each side where they differ.
func rules(s *proof.Summary) string {
	p := s.Programme
	var of []string
	for side, f := range p.Faces {
		if f != nil {
			of = append(of, fmt.Sprintf("%s on the %s", p.Black[side].Rule, site.Side(side)))
		}
	}
	if len(of) == 2 && p.Black[site.Front].Rule == p.Black[site.Back].Rule {
		return fmt.Sprintf("black rule %s on both sides", p.Black[site.Front].Rule)
	}
	return "black rule " + strings.Join(of, ", ")
}
