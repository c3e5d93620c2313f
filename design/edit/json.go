package edit

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
)

// UnmarshalJSON reads a value as a page or another program sends it: strings are
// texts, numbers are rounded as Number does, groups keep the order of their keys.
func (v *Value) UnmarshalJSON(src []byte) error {
	d := json.NewDecoder(bytes.NewReader(src))
	d.UseNumber()
	read, err := readJSON(d, 0)
	if err != nil {
		return err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return errors.New("more than one value")
	}
	*v = read
	return nil
}

func readJSON(d *json.Decoder, depth int) (Value, error) {
	t, err := d.Token()
	if err != nil {
		return Value{}, err
	}
	switch t := t.(type) {
	case string:
		return Text(t), nil
	case bool:
		return Flag(t), nil
	case json.Number:
		f, err := strconv.ParseFloat(t.String(), 64)
		if err != nil || math.Abs(f) > 1e9 {
			return Value{}, fmt.Errorf("the number %s is out of reach", t)
		}
		return Number(f), nil
	case json.Delim:
		if depth == maxDepth {
			return Value{}, errors.New("the value lies too deep")
		}
		return readEntries(d, t == '{', depth+1)
	}
	return Value{}, nil // null
}

// readEntries reads the rest of a list or group up to its bracket.
func readEntries(d *json.Decoder, keyed bool, depth int) (Value, error) {
	var pairs []Pair
	for d.More() {
		var p Pair
		if keyed {
			t, err := d.Token()
			if err != nil {
				return Value{}, err
			}
			p.Key, _ = t.(string)
		}
		v, err := readJSON(d, depth)
		if err != nil {
			return Value{}, err
		}
		p.Value = v
		pairs = append(pairs, p)
	}
	if _, err := d.Token(); err != nil {
		return Value{}, err
	}
	if keyed {
		return Group(pairs...), nil
	}
	items := make([]Value, len(pairs))
	for i, p := range pairs {
		items[i] = p.Value
	}
	return List(items...), nil
}

// MarshalJSON writes a value for a page or another program. Numbers stand as they
// are written in the file where JSON has them so, otherwise as texts.
func (v Value) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	err := writeJSON(&b, v.node())
	return b.Bytes(), err
}

func writeJSON(b *bytes.Buffer, n *node) error {
	switch {
	case n.kind == null:
		b.WriteString("null")
		return nil
	case n.kind == scalar:
		s := n.text
		switch sort := n.sort(); {
		case sort == "number" && decimal(s) && s[len(s)-1] != '.', sort == "flag" && (s == "true" || s == "false"):
			b.WriteString(s)
			return nil
		}
		return writeString(b, s)
	}
	b.WriteByte("[{"[n.kind-list])
	for i, e := range n.entries {
		if i > 0 {
			b.WriteByte(',')
		}
		if n.kind == group {
			if err := writeString(b, e.key); err != nil {
				return err
			}
			b.WriteByte(':')
		}
		if err := writeJSON(b, e.value); err != nil {
			return err
		}
	}
	b.WriteByte("]}"[n.kind-list])
	return nil
}

func writeString(b *bytes.Buffer, s string) error {
	written, err := json.Marshal(s)
	b.Write(written)
	return err
}
