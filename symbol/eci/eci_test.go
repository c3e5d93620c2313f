package eci

import (
	"testing"
)

// The characters' places in the sets are from their public tables (from memory).
func TestText(t *testing.T) {
	for _, c := range []struct {
		number int
		data   string
		want   string
	}{
		{Default, "caf\xe9", "café"},
		{Default, "café", "café"},
		{3, "café", "cafÃ©"},
		{UTF8, "Łódź", "Łódź"},
		{UTF8, "a\xff", "a\ufffd"},
		{4, "\xa3", "Ł"},
		{7, "\xb6", "Ж"},
		{17, "\xa4", "€"},
		{23, "\x80", "€"},
		{ShiftJIS, "\x93\xfa\x96\x7b", "日本"},
		{25, "\x20\xac", "€"},
		{899, "\x00\xff", "\x00ÿ"},
	} {
		var m Message
		m.Append(c.number, []byte(c.data)...)
		if got, err := m.Text(); got != c.want || err != nil || string(m.Data()) != c.data {
			t.Errorf("%d %q: %q %v, want %q", c.number, c.data, got, err, c.want)
		}
	}
}

func TestRuns(t *testing.T) {
	var m Message
	if got, err := m.Text(); got != "" || err != nil {
		t.Errorf("empty: %q %v", got, err)
	}
	m.Append(UTF8, []byte("caf\xc3")...)
	m.Append(UTF8, 0xa9)
	m.Append(ShiftJIS, []byte("\x93\xfa")...)
	m.Append(Default, []byte("\xe9")...)
	if got, err := m.Text(); got != "café日é" || err != nil {
		t.Errorf("%q %v", got, err)
	}
	m.Append(811, 'x')
	want := "the symbol names the extended channel interpretation 000811, which is not known here"
	if _, err := m.Text(); err == nil || err.Error() != want {
		t.Errorf("%v, want %s", err, want)
	}
}
