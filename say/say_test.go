package say

import (
	"errors"
	"fmt"
	"io/fs"
	"reflect"
	"testing"

	"unspool/unit"
)

type side uint8

func (s side) String() string { return [...]string{"front", "back"}[s] }

// What a text says in English is what package fmt makes of the same format and
// arguments.
func TestEnglishIsWhatFmtSays(t *testing.T) {
	inner := F("%.1f %%", 12.34)
	for _, c := range []struct {
		format string
		args   []any
	}{
		{"%d dots, %s of it", []any{41306, inner}},
		{"it is on the %s, %s high", []any{side(1), 5 * unit.Millimetre}},
		{"%q cannot be read: %v", []any{"a.jpg", fs.ErrNotExist}},
		{"at %s", []any{unit.Nanometres(940)}},
	} {
		if got, want := F(c.format, c.args...).String(), fmt.Sprintf(c.format, c.args...); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := Words("100 %").String(); got != "100 %" {
		t.Errorf("a format without arguments says %q", got)
	}
	if got := Data("50 %d").String(); got != "50 %d" {
		t.Errorf("data says %q", got)
	}
	if !(Text{}).IsZero() || Words("x").IsZero() || (Text{}).String() != "" {
		t.Error("the zero text says something")
	}
}

func TestHoles(t *testing.T) {
	inner := F("%.1f %%", 12.34)
	text := F("%d %% of %q, %s, %s, %s on the %v: %s, %v, %q (U+%04X), %.2f", 41306, "a.jpg", inner, unit.MM(0.254), unit.Nanometres(940), side(1),
		Errorf("it lacks %q", 'é'), fs.ErrNotExist, 'Å', 'Å', 3.6)
	want := []Hole{
		{Verb: "%d", Figure: "41306"},
		{Verb: "%q", Data: "a.jpg"},
		{Verb: "%s", Text: inner},
		{Verb: "%s", Text: Text{"%v mm", []any{figures("0.254")}}},
		{Verb: "%s", Text: Text{"%v nm", []any{figures("940")}}},
		{Verb: "%v", Text: Words("back")},
		{Verb: "%s", Text: Text{"it lacks %q", []any{'é'}}},
		{Verb: "%v", Text: Words("file does not exist")},
		{Verb: "%q", Data: "Å"},
		{Verb: "%04X", Data: "00C5"},
		{Verb: "%.2f", Figure: "3.60"},
	}
	got := text.Holes()
	if len(got) != len(want) {
		t.Fatalf("%d holes, want %d", len(got), len(want))
	}
	for i := range want {
		if !reflect.DeepEqual(got[i], want[i]) {
			t.Errorf("hole %d: %+v, want %+v", i, got[i], want[i])
		}
	}
	if mm := want[3].Text; mm.String() != unit.MM(0.254).String() || mm.Holes()[0].Figure != "0.254" {
		t.Errorf("a length says %q", mm)
	}
	if h := Words("100 %").Holes(); h != nil {
		t.Errorf("words have holes: %v", h)
	}
}

func TestErrorsKeepTheirTextAndCause(t *testing.T) {
	err := Errorf("the photo %s: %v", "a.jpg", fs.ErrNotExist)
	if !errors.Is(err, fs.ErrNotExist) || err.Error() != "the photo a.jpg: file does not exist" {
		t.Errorf("%v", err)
	}
	if got := Of(err); got.Format != "the photo %s: %v" || len(got.Args) != 2 {
		t.Errorf("%+v", got)
	}
	if got := Of(fmt.Errorf("about: %w", err)); got.Format != "about: the photo a.jpg: file does not exist" || got.Args != nil {
		t.Errorf("an error of another kind: %+v", got)
	}
	if !Of(nil).IsZero() || errors.Unwrap(Errorf("alone")) != nil {
		t.Error("no error says something")
	}
}
