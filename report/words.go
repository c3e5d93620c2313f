package report

import (
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"unspool/site"
	"unspool/unit"
)

// number writes a count with a thin space between thousands: "12 480".
func number(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "\u202f" + s[i:]
	}
	return s
}

// count writes n things: "1 card", "60 cards". The plural takes an s.
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return number(n) + " " + thing + "s"
}

// share says how many of all cards: "all 60 cards", "7 of 60 cards", "the card".
func share(n, all int) string {
	switch {
	case n == all && all == 1:
		return "the card"
	case n == all && all == 2:
		return "both cards"
	case n == all:
		return "all " + count(all, "card")
	}
	return number(n) + " of " + count(all, "card")
}

// list joins words as a sentence does: "a, b and c".
func list(words []string) string {
	switch n := len(words); n {
	case 0:
		return ""
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}

// sentence begins with a capital, unless with a place such as "crew.csv:4:", and
// ends with a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" {
		return ""
	}
	if first, _, _ := strings.Cut(s, " "); !strings.HasSuffix(first, ":") {
		r, n := utf8.DecodeRuneInString(s)
		s = string(unicode.ToUpper(r)) + s[n:]
	}
	if strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") || strings.HasSuffix(s, "!") {
		return s
	}
	return s + "."
}

// lower takes the capital off a title that goes on inside a sentence. A word
// with a second capital or a lone letter keeps it.
func lower(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	second, _ := utf8.DecodeRuneInString(s[n:])
	if !unicode.IsLower(second) {
		return s
	}
	return string(unicode.ToLower(r)) + s[n:]
}

// light names the colour of a wavelength as people do; the borders are common
// practice, no source.
func light(nm unit.Nanometres) string {
	switch {
	case nm.Infrared():
		return "infrared"
	case nm >= 620:
		return "red"
	case nm >= 590:
		return "orange"
	case nm >= 565:
		return "yellow"
	case nm >= 500:
		return "green"
	case nm >= 440:
		return "blue"
	}
	return "violet"
}

// article puts a or an before a word.
func article(s string) string {
	if strings.ContainsRune("aeiou", rune(s[0])) {
		return "an " + s
	}
	return "a " + s
}

// kind of reader in words.
func kind(k site.ReaderKind) string {
	return [...]string{"slot reader", "hand-held reader", "counter reader", "camera"}[k%4]
}

// RuleWords says what a black rule sends to resin.
func RuleWords(b site.Black) string {
	switch b.Rule {
	case site.NoRule:
		return "nothing goes to resin; black is mixed from the dyes"
	case site.Exact:
		return "dots that are exactly black"
	case site.Dark:
		return fmt.Sprintf("every dot whose red, green and blue are all %d or less", b.Limit)
	case site.Objects:
		return "black text, lines and codes that arrive as objects; pictures never"
	case site.Zones:
		if b.Outside {
			return "dark dots outside the zones"
		}
		return "dark dots inside the zones"
	}
	return "everything, as solid resin or as a pattern of dots; no dyes"
}

// price writes hundredths of a currency: "14.40 EUR".
func price(hundredths int64, currency string) string {
	return strings.TrimSpace(fmt.Sprintf("%d.%02d %s", hundredths/100, hundredths%100, currency))
}

// rows names cards by their place in the roster, counted from 1.
func rows(first []int, all int) string {
	if len(first) == 0 {
		return ""
	}
	words := make([]string, len(first))
	for i, r := range first {
		words[i] = number(r + 1)
	}
	if more := all - len(first); more > 0 {
		return "rows " + strings.Join(words, ", ") + " and " + number(more) + " more"
	}
	if len(words) == 1 {
		return "row " + words[0]
	}
	return "rows " + list(words)
}
