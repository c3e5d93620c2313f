package code93

import (
	"strings"

	"unspool/say"
	"unspool/symbol"
)

// Encode makes the symbol for text, which may hold any ASCII character. An empty
// text and a character beyond ASCII are errors.
func Encode(text string) (symbol.Logical, error) {
	if text == "" {
		return symbol.Logical{}, say.Errorf("Code 93 needs at least one character of text")
	}
	for i, r := range text {
		if r > 0x7f {
			return symbol.Logical{}, symbol.CannotCarry("Code 93", text, i, "write it in plain ASCII, without accents")
		}
	}
	l := assemble(values(text))
	l.Text = text
	return l, nil
}

// values are the data characters of text.
func values(text string) []int {
	row := make([]int, 0, len(text))
	for i := range len(text) {
		if v := strings.IndexByte(alphabet, text[i]); v >= 0 {
			row = append(row, v)
			continue
		}
		for _, p := range pairs {
			if k := int(text[i]) - int(p.first); k >= 0 && k < p.n {
				row = append(row, p.shift, strings.IndexByte(alphabet, p.letter)+k)
			}
		}
	}
	return row
}

// assemble makes a symbol of data characters, adding the rest. It leaves Text to
// the caller.
func assemble(data []int) symbol.Logical {
	l := symbol.Logical{Family: symbol.Modular}
	l.Append("start", guard, units[guard])
	for _, v := range data {
		l.Append(label(v), v, units[v])
	}
	for _, v := range checks(data) {
		l.Append("check "+label(v), v, units[v])
	}
	l.Append("stop", guard, append(units[guard][:elements:elements], 1)) // with the termination bar
	return l
}

// checks are the check characters C and K: sums of the values modulo 47, weighted
// from the right by 1 to 20 and, C counted, by 1 to 15, over and over. ANSI/AIM
// BC5-1995 (read at csse.monash.edu.au, code_93.html).
func checks(data []int) [2]int {
	c := weighted(data, 20)
	k := weighted(append(data[:len(data):len(data)], c), 15)
	return [2]int{c, k}
}

func weighted(values []int, most int) int {
	sum := 0
	for i := range values {
		sum += values[len(values)-1-i] * (i%most + 1)
	}
	return sum % 47
}

// label is what a person calls a value.
func label(v int) string {
	switch {
	case v == guard:
		return "guard"
	case v >= shifts:
		return "(" + "$%/+"[v-shifts:v-shifts+1] + ")"
	}
	return symbol.Label(alphabet[v])
}
