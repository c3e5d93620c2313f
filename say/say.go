// Package say keeps what Unspool says to people as an English format with its
// arguments still beside it, so that a page can say the same in another language.
// English is what every Text says of itself; whoever wants no other language
// calls String and is done.
package say

import "fmt"

// Text is something said to a person. The zero Text says nothing.
//
// A format without arguments stands as it is, also with a per cent sign in it;
// with arguments it is one of package fmt, its verbs in the order of the
// arguments. Arguments are text of the user's own (a string), numbers, lengths
// and wavelengths of package unit, errors, other Texts, and values with a String
// method, which are words: "front". They must not change afterwards.
type Text struct {
	Format string
	Args   []any
}

// F is a format and its arguments.
func F(format string, args ...any) Text {
	if false {
		_ = fmt.Sprintf(format, args...) // lets go vet hold arguments against verbs
	}
	return Text{format, args}
}

// Words is a text without arguments.
func Words(s string) Text { return Text{Format: s} }

// Word is a word of Unspool's own among the arguments of a text, such as the name
// of a symbology.
type Word string

// String is the word.
func (w Word) String() string { return string(w) }

// Data is what is the same in every language: a file name, a number of the
// roster, a grade.
func Data(s string) Text { return Text{"%s", []any{s}} }

// IsZero says whether nothing is said.
func (t Text) IsZero() bool { return t.Format == "" }

// String is the text in English.
func (t Text) String() string {
	if len(t.Args) == 0 {
		return t.Format
	}
	return fmt.Sprintf(t.Format, t.Args...)
}

// failure is an error that is a Text.
type failure struct{ Text }

// Errorf is an error that says a text; see Of. It wraps the last error among its
// arguments, so %v does for errors what %w does in package fmt.
func Errorf(format string, args ...any) error {
	return &failure{F(format, args...)}
}

// Error is the text in English.
func (f *failure) Error() string { return f.String() }

// Unwrap is the error the text goes on to tell; nil where there is none.
func (f *failure) Unwrap() error {
	for i := len(f.Args) - 1; i >= 0; i-- {
		if err, ok := f.Args[i].(error); ok {
			return err
		}
	}
	return nil
}

// Of is what an error says: of one made by Errorf its text with the arguments,
// of any other its English; the zero Text of nil.
func Of(err error) Text {
	if err == nil {
		return Text{}
	}
	if f, ok := err.(*failure); ok {
		return f.Text
	}
	return Words(err.Error())
}
