package web

import "unspool/say"

// sayForm is what an English text was made of, for a page in another language:
// the format, by which that language knows it, and what fills its verbs in turn.
// A filling is a string that is the same in every language, a number as English
// writes it, or another sayForm.
type sayForm struct {
	Say  string `json:"say"`
	Args []any  `json:"args,omitempty"`
}

// figureForm is a number as English writes it: "0.50".
type figureForm struct {
	N string `json:"n"`
}

// sayOf takes a text apart; nil where the English is its own format.
func sayOf(t say.Text) *sayForm {
	if len(t.Args) == 0 {
		return nil
	}
	f := partOf(t)
	return &f
}

func partOf(t say.Text) sayForm {
	f := sayForm{Say: t.Format}
	for _, h := range t.Holes() {
		switch {
		case !h.Text.IsZero():
			f.Args = append(f.Args, partOf(h.Text))
		case h.Figure != "":
			f.Args = append(f.Args, figureForm{h.Figure})
		default:
			f.Args = append(f.Args, h.Data)
		}
	}
	return f
}

// findingSays and readingSays hold the texts of a form that have fillings.
type findingSays struct {
	Detail  *sayForm `json:"detail,omitempty"`
	Measure *sayForm `json:"measure,omitempty"`
	Limit   *sayForm `json:"limit,omitempty"`
	Remedy  *sayForm `json:"remedy,omitempty"`
}

type readingSays struct {
	Reason  *sayForm `json:"reason,omitempty"`
	Measure *sayForm `json:"measure,omitempty"`
	Limit   *sayForm `json:"limit,omitempty"`
}
