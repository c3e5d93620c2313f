// Package gs1 reads element strings of the GS1 system: application identifiers
// with their data, as symbols with FNC1 carry them.
package gs1

import (
	"regexp"
	"strings"

	"unspool/say"
)

// Separator stands for FNC1 between two elements, as readers pass it on: GS of
// ISO/IEC 646. The FNC1 before the first element is not written.
const Separator = "\x1d"

// Element is an application identifier and its data: "01", "09521234543213".
type Element struct{ AI, Data string }

// Parse reads element strings in either way they are written:
//
//	(01)09521234543213(21)ABC     for people
//	010952123454321321ABC         as a reader passes them on, Separator after
//	                              data of no pre-defined length
//
// For people, digits in round brackets always are an identifier. Lengths,
// characters, check digits and dates are proved; what else the GS1 General
// Specifications ask of data, such as that a currency exists, is not. An error
// says where in the text, what and what is needed.
func Parse(text string) ([]Element, error) {
	var found []located
	var err error
	switch {
	case text == "":
		err = say.Errorf("GS1 data needs at least one element such as (01)09521234543213")
	case text[0] == '(':
		found, err = bracketed(text)
	default:
		found, err = raw(text)
	}
	if err != nil {
		return nil, err
	}
	elements := make([]Element, len(found))
	for i, f := range found {
		if err := f.prove(); err != nil {
			return nil, err
		}
		elements[i] = f.Element
	}
	return elements, nil
}

// Raw writes elements as a reader passes them on: Separator after each but the
// last whose length is not pre-defined.
func Raw(elements []Element) string {
	var b strings.Builder
	for i, e := range elements {
		b.WriteString(e.AI + e.Data)
		if i < len(elements)-1 && !predefined[e.AI[:2]] {
			b.WriteString(Separator)
		}
	}
	return b.String()
}

// located is an element and the place of its identifier, the first character
// being 1.
type located struct {
	Element
	at int
}

// identifier is how an application identifier is written for people.
var identifier = regexp.MustCompile(`\(([0-9]{2,4})\)`)

func bracketed(text string) ([]located, error) {
	at := identifier.FindAllStringSubmatchIndex(text, -1)
	if len(at) == 0 || at[0][0] != 0 {
		return nil, say.Errorf("GS1 data %q must begin with an application identifier of 2 to 4 digits in brackets, such as (01)", text)
	}
	var found []located
	for i, m := range at {
		to := len(text)
		if i+1 < len(at) {
			to = at[i+1][0]
		}
		found = append(found, located{Element{text[m[2]:m[3]], text[m[1]:to]}, m[0] + 1})
	}
	return found, nil
}

func raw(text string) (found []located, err error) {
	for at := 0; at < len(text); {
		ai := identifierAt(text[at:])
		if ai == "" {
			return nil, say.Errorf("GS1 data %q has no known application identifier at character %d: %q", text, at+1, text[at:])
		}
		data, rest, separated := strings.Cut(text[at+len(ai):], Separator)
		if length := fixed(ai); predefined[ai[:2]] && length < len(data) {
			data, rest, separated = data[:length], data[length:], false
		}
		if separated && rest == "" {
			return nil, say.Errorf("GS1 data %q ends in a separator with nothing behind it: take it out", text)
		}
		found = append(found, located{Element{ai, data}, at + 1})
		at += len(ai) + len(data)
		if separated {
			at++
		}
	}
	return found, nil
}

// identifierAt is the known identifier that text begins with. No identifier
// begins with another.
func identifierAt(text string) string {
	for n := 2; n <= min(4, len(text)); n++ {
		if _, ok := formats[text[:n]]; ok {
			return text[:n]
		}
	}
	return ""
}

// fixed is the length of the data of an identifier of pre-defined length.
func fixed(ai string) (length int) {
	for _, p := range formats[ai] {
		length += p.most
	}
	return length
}
