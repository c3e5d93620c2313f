package design_test

import (
	"strings"
	"testing"

	"unspool/design"
)

const zoneKeys = `document: I, state: UTO, number: "{number}", born: "{born}", sex: "{sex}", expires: "{expires}", nationality: UTO, surname: "{family}", forenames: "{given}"`

// zone is the only element of the front, as the short sample has it with another
// element in the place of its text.
func zone(t *testing.T, keys string) (*design.Programme, *design.MRZ) {
	t.Helper()
	p := parse(t, edited(t, `{text: "{full}", box: [5, 5, 40, 6], size: 4}`, "{"+keys+", box: [4, 31, 78, 20]}"))
	return p, p.Faces[0].Elements[0].MRZ
}

type columns map[string]string

func (c columns) Field(name string) string { return c[name] }

// The specimen of ICAO Doc 9303-5, from columns as a register has them.
func TestZoneIsWritten(t *testing.T) {
	holder := columns{"number": "D23145890", "born": "1974-08-12", "sex": "f", "expires": "15.04.2012", "family": "Eriksson", "given": "Anna Maria"}
	want := "I<UTOD231458907<<<<<<<<<<<<<<<\n7408122F1204159UTO<<<<<<<<<<<6\nERIKSSON<<ANNA<MARIA<<<<<<<<<<"
	p, m := zone(t, "mrz: td1, "+zoneKeys)
	lines, err := m.Write(holder)
	if got := strings.Join(lines, "\n"); err != nil || got != want || m.Fixed() {
		t.Errorf("%v\n%s\nwant\n%s", err, got, want)
	}
	// An invented person has no dates; the specimen stands in, or the sample.
	if lines, err = m.Write(p.Invented(holder)); err != nil || strings.Join(lines, "\n") != want {
		t.Errorf("invented: %v, %q", err, lines)
	}
	if _, err := m.Write(columns{"number": "1"}); err == nil {
		t.Error("a person without dates has a zone")
	}
	p, m = zone(t, `mrz: td2, lines: ["{line1}", "{line2} "]`)
	given := columns{"line1": "wrong", "line2": "I<UTO"}
	if lines, err = m.Write(given); err != nil || strings.Join(lines, "\n") != "wrong\nI<UTO" {
		t.Errorf("given whole: %q, %v", lines, err)
	}
	if lines, err = m.Write(p.Invented(given)); err != nil || lines[1] != "D231458907UTO7408122F1204159<<<<<<<6" {
		t.Errorf("given whole, invented: %q, %v", lines, err)
	}
	if err := p.CheckFields([]string{"number", "line1", "given", "family"}); err == nil || !strings.Contains(err.Error(), `lines[2]: names the field "line2"`) {
		t.Errorf("no fault of a line's field: %v", err)
	}
}
