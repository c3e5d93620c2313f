package gs1

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"unspool/symbol"
)

// strict are identifiers whose data zint holds to more than Parse does, with data
// that it takes: countries, currencies, times, coupons and the like.
var strict = map[string][]string{
	"421": {"276A", "276ABCDEFGHI"}, "422": {"276"}, "423": {"276", "276036276036276"}, "424": {"276"}, "425": {"276"}, "426": {"276"},
	"4307": {"DE"}, "4317": {"DE"}, "4309": {"00000000000000000000"}, "4321": {"1"}, "4322": {"0"}, "4323": {"1"},
	"4324": {"2301312359"}, "4325": {"2301312359"}, "4326": {"230131"}, "7003": {"2301312359"}, "7011": {"230131", "2301312359"},
	"7040": {"1ABC"}, "7241": {"10"}, "8001": {"00010000100110"}, "8003": {"01234567890128", "01234567890128ABCDEFGHIJKLMNOP"},
	"8006": {"095212345432130101"}, "8026": {"095212345432130101"}, "8007": {"DE89370400440532013000"},
	"8008": {"23013123", "2301312359", "230131235959"}, "8013": {"1987654Ad4X4bL5ttr2310c2K"}, "8011": {"1", "123456789012"},
	"8110": nil, "8112": nil, // coupons
	// A company prefix comes first in these.
	"401": {"1234", thirty}, "7023": {"1234", thirty}, "8004": {"1234", thirty}, "8010": {"1234", thirty},
}

const thirty = "1234567ABCDEFGHIJKLMNOPQRSTUVW"

// unknown are identifiers that the Syntax Dictionary has and zint 2.11.1 lacks.
var unknown = regexp.MustCompile(`^(433[0-3]|7011|7241|7242|8030)$`)

// sample is data for a format: the shortest, the longest.
func samples(ai string) []string {
	if s, ok := strict[ai]; ok {
		return s
	}
	parts := formats[ai]
	var out []string
	for _, longest := range []bool{false, true} {
		data := ""
		for _, p := range parts {
			n := p.least
			if p.optional {
				n = 0
			}
			if longest {
				n = p.most
			}
			data += fill(p, n)
		}
		// A currency or a country comes first in these.
		if len(data) > 3 && regexp.MustCompile(`^(391|393|703)\d$`).MatchString(ai) {
			data = "978" + data[3:]
			if ai[:3] == "703" {
				data = "276" + data[3:]
			}
		}
		out = append(out, data)
	}
	return out
}

func fill(p part, n int) string {
	switch {
	case n == 0:
		return ""
	case p.date:
		return "230131"
	case p.check:
		row := strings.Repeat("1234567890", 2)[:n-1]
		return row + string(symbol.Mod10(row))
	case p.set == 'N':
		return strings.Repeat("1234567890", 2)[:n]
	}
	return strings.Repeat("ABCDEFGHIJ", 10)[:n]
}

// spoiled are data with one thing wrong.
func spoiled(ai, data string) []string {
	out := []string{data + strings.Repeat("0", 100-len(data)), data[:len(data)-1]}
	for i, p := range formats[ai] {
		switch {
		case i > 0:
		case p.set == 'N':
			out = append(out, "A"+data[1:])
		default:
			out = append(out, "{"+data[1:])
		}
		if i == 0 && p.check {
			last := p.most - 1
			out = append(out, data[:last]+string('0'+(data[last]-'0'+1)%10)+data[last+1:])
		}
		if i == 0 && p.date {
			out = append(out, data[:2]+"1300"+data[6:], data[:2]+"0230"+data[6:])
		}
	}
	return out
}

// zint's own table (2.11.1, written from the General Specifications) takes and
// refuses the same data of every identifier: the shortest and the longest, and
// with a character more, a character less, a letter, a wrong check digit, a day
// that does not exist.
func TestZintTakesTheSame(t *testing.T) {
	var ais []string
	for ai := range formats {
		ais = append(ais, ai)
	}
	slices.Sort(ais)
	var lines []string
	for _, ai := range ais {
		for _, data := range samples(ai) {
			lines = append(lines, ai+" "+data)
			if strict[ai] == nil {
				for _, bad := range spoiled(ai, data) {
					lines = append(lines, ai+" "+bad)
				}
			}
		}
	}
	good, lacking := 0, 0
	for i, refused := range zintRefuses(t, lines) {
		ai, data, _ := strings.Cut(lines[i], " ")
		elements, err := Parse("(" + ai + ")" + data)
		if unknown.MatchString(ai) {
			lacking++
			if refused == "" {
				t.Errorf("(%s)%s: zint knows it: %q", ai, data, refused)
			}
			continue
		}
		if (err != nil) != (refused != "") {
			t.Errorf("(%s)%s: %v; zint %q", ai, data, err, refused)
		}
		if err == nil {
			good++
			if want := []Element{{ai, data}}; !slices.Equal(elements, want) {
				t.Errorf("(%s)%s: %v", ai, data, elements)
			}
		}
	}
	t.Logf("%d identifiers, %d lines, %d good, %d of identifiers that zint lacks", len(ais), len(lines), good, lacking)
}

// zintRefuses is what zint says against each line, an identifier and its data.
func zintRefuses(t *testing.T, lines []string) []string {
	t.Helper()
	var b strings.Builder
	for _, l := range lines {
		ai, data, _ := strings.Cut(l, " ")
		fmt.Fprintf(&b, "[%s]%s\n", ai, data)
	}
	list := filepath.Join(t.TempDir(), "elements")
	if err := os.WriteFile(list, []byte(b.String()), 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("zint", "-b", "71", "--gs1", "--batch", "--dump", "-i", list)
	var stderr strings.Builder
	cmd.Stderr = &stderr
	if err := cmd.Run(); err != nil && stderr.Len() == 0 {
		t.Fatalf("zint: %v (Debian package zint)", err)
	}
	refused := make([]string, len(lines))
	for _, m := range regexp.MustCompile(`On line (\d+): (.*)`).FindAllStringSubmatch(stderr.String(), -1) {
		n, err := strconv.Atoi(m[1])
		if err != nil || n > len(refused) {
			t.Fatal(m[0])
		}
		refused[n-1] = m[2]
	}
	return refused
}
