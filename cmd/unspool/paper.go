package main

import (
	"unspool/demo"
	"unspool/proof"
	"unspool/report"
)

// paper writes what is made to be printed: the spent ribbon to lay beside the
// real one and, where there is one, the page that explains black to a customer.
func (r *running) paper(in report.Input) error {
	web, err := report.RibbonPDF(in)
	if err != nil {
		return err
	}
	if err := r.out.Write("ribbon.pdf", web); err != nil || len(r.rows) == 0 {
		return err
	}
	row, o := proof.Row{Person: r.f.Programme.Invented(r.rows[0].Person)}, proof.ViewOptions{Broken: true, Portrait: demo.Portrait(), Lamps: report.Lamps(r.pf.Readers)}
	if r.cmd.Real {
		row, o = r.rows[worth(in.Summary)[0]], proof.ViewOptions{Lamps: report.Lamps(r.pf.Readers)}
	}
	v, err := r.pf.Viewer(o)
	if err != nil {
		return err
	}
	e, ok, err := report.Explain(r.pf, in.Summary, v, row)
	if err != nil || !ok {
		return err
	}
	e.Invented = in.Invented
	page, err := report.ExplanationPDF(e)
	if err != nil {
		return err
	}
	return r.out.Write("explanation.pdf", page)
}
