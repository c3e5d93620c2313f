package crew

import (
	"regexp"
	"slices"
	"testing"
	"time"
	"unicode"
)

func TestNumbersAreUnique(t *testing.T) {
	numbers, stored := map[string]bool{}, map[string]bool{}
	six, sh := regexp.MustCompile(`^[0-9]{6}$`), regexp.MustCompile(`^SH[0-9]{8}$`)
	for i, m := range Crew(Most) {
		if !six.MatchString(m.Number) || !sh.MatchString(m.Stores) {
			t.Fatalf("member %d: numbers %q and %q", i, m.Number, m.Stores)
		}
		if numbers[m.Number] || stored[m.Stores] {
			t.Fatalf("member %d: number %q or %q came before", i, m.Number, m.Stores)
		}
		numbers[m.Number], stored[m.Stores] = true, true
	}
}

func TestLengths(t *testing.T) {
	for n, want := range map[int]int{-5: 0, 0: 0, 1: 1, 60: 60, Most + 1: Most} {
		if got := len(Crew(n)); got != want {
			t.Errorf("Crew(%d) has %d members, want %d", n, got, want)
		}
	}
}

func TestLongerCrewBeginsWithTheShorter(t *testing.T) {
	if !slices.Equal(Crew(60), Crew(5000)[:60]) {
		t.Error("the first 60 depend on the size of the crew")
	}
}

// The demo's own people: changing them changes every card of the demo.
func TestFirstMembersStay(t *testing.T) {
	want := []struct{ number, latin, until string }{
		{"004217", "Soren Hakonsvik", "2029-03-31"},
		{"616170", "Thi Nhai Nguyen", "2028-09-30"},
		{"228123", "Tomas Bjorkelund", "2029-03-31"},
	}
	for i, m := range Crew(len(want)) {
		if m.Number != want[i].number || m.Latin != want[i].latin || m.Until != want[i].until {
			t.Errorf("member %d is %s %s until %s, want %v", i, m.Number, m.Latin, m.Until, want[i])
		}
	}
}

func TestFirstSixtyShowTheHardCases(t *testing.T) {
	zeros, scripts, names := 0, map[Script]int{}, map[string]bool{}
	for _, m := range Crew(60) {
		if names[m.Name] {
			t.Errorf("%s comes twice", m.Name)
		}
		names[m.Name] = true
		if m.Number[0] == '0' {
			zeros++
		}
		scripts[m.Script]++
	}
	if zeros < 4 {
		t.Errorf("%d numbers with leading zeros, want at least 4", zeros)
	}
	for _, s := range []Script{Latin, Vietnamese, Greek, Cyrillic, Arabic, Hebrew, Devanagari} {
		if scripts[s] < 3 {
			t.Errorf("%d names in %s, want at least 3", scripts[s], s)
		}
	}
}

func TestFieldsAreFilled(t *testing.T) {
	for i, m := range Crew(2000) {
		for _, f := range []string{m.Name, m.Given, m.Family, m.Latin, m.Role, m.Port} {
			if f == "" {
				t.Errorf("member %d has an empty field: %+v", i, m)
			}
		}
		if _, err := time.Parse(time.DateOnly, m.Until); err != nil {
			t.Errorf("member %d: %v", i, err)
		}
		for _, r := range m.Latin {
			if r > unicode.MaxASCII {
				t.Errorf("member %d: %q is not plain Latin", i, m.Latin)
			}
		}
	}
}

// Every letter of a name must belong to its script, by Unicode's own tables.
func TestNamesKeepToTheirScript(t *testing.T) {
	tables := map[Script]*unicode.RangeTable{Latin: unicode.Latin, Vietnamese: unicode.Latin, Greek: unicode.Greek,
		Cyrillic: unicode.Cyrillic, Arabic: unicode.Arabic, Hebrew: unicode.Hebrew, Devanagari: unicode.Devanagari}
	for _, p := range pools() {
		names := append(append([]name(nil), p.women...), p.men...)
		for _, f := range p.families {
			names = append(names, f.woman, f.man)
		}
		for _, n := range names {
			for _, r := range n.own {
				if unicode.IsLetter(r) && !unicode.Is(tables[p.script], r) {
					t.Errorf("%s: %q has the letter %q of another script", p.script, n.own, r)
				}
			}
		}
	}
}
