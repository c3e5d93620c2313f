package design_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"regexp"
	"slices"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"unspool/design"
	"unspool/schema"
)

func compileSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(schema.Programme))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("programme.schema.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("programme.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func readTree(t *testing.T, name string) any {
	t.Helper()
	src, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var tree any
	if err := yaml.Unmarshal(src, &tree); err != nil {
		t.Fatal(err)
	}
	return tree
}

// onlyDesign are the faults that hang on more than one value, which a JSON
// Schema does not tell.
var onlyDesign = regexp.MustCompile(`has no effect|no text element|leaves no panel|no panel; write|larger than the size|` +
	`beyond the|off the card|runs from|comes after|reaches from|black: is missing|its usual place|` +
	`the narrow bar has only|does not know|has no check rule|belongs to cod|there is no check rule|more than half|` +
	`is the width of a stroke|needs its rectangles|outside the|but the card passes under|a short edge|run the same way|` +
	`no key of|which is no column|has no length|is named|belongs to an XLSX|belongs to a CSV|belongs to a td1|judges a grade in|has \d lines`)

// The schema and the parser must agree on every structural fault: whatever is
// done to one value of a good programme, either both take it or both refuse it.
// The schema is judged by an independent implementation of JSON Schema.
func TestSchemaAgreesWithParse(t *testing.T) {
	s := compileSchema(t)
	tried := 0
	judge := func(what string, tree any) {
		tried++
		text, err := json.Marshal(tree)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		_, parseErr := design.Parse("programme.yaml", text)
		switch schemaErr := s.Validate(doc); {
		case schemaErr != nil && parseErr == nil:
			t.Errorf("%s: the schema refuses what Parse takes: %v", what, schemaErr)
		case schemaErr == nil && parseErr != nil && !onlyDesign.MatchString(parseErr.Error()):
			t.Errorf("%s: the schema takes what Parse refuses: %v", what, parseErr)
		}
	}
	strange := []any{nil, -1, "{a", map[string]any{}, true, 99999999, "../x", []any{1, 2}}
	for name, strange := range map[string][]any{"testdata/full.yaml": strange[:4], "testdata/short.yaml": strange} {
		tree := readTree(t, name)
		judge(name, tree)
		mutate(tree, name, strange, func(what string) { judge(what, tree) })
	}
	if tried < 800 {
		t.Errorf("only %d changes were tried", tried)
	}
}

// mutate puts each of the strange values in the place of one part of tree after
// another, and takes parts out, and calls judge each time.
func mutate(tree any, path string, strange []any, judge func(what string)) {
	replace := func(at string, set func(any), old any) {
		for _, s := range strange {
			set(s)
			judge(fmt.Sprintf("%s = %v", at, s))
		}
		set(old)
		mutate(old, at, strange, judge)
	}
	switch tree := tree.(type) {
	case map[string]any:
		tree["bogus"] = 1
		judge(path + " with bogus")
		delete(tree, "bogus")
		for _, k := range slices.Sorted(maps.Keys(tree)) {
			old := tree[k]
			delete(tree, k)
			judge(path + " without " + k)
			replace(path+"."+k, func(v any) { tree[k] = v }, old)
		}
	case []any:
		for i, old := range tree {
			if _, number := old.(float64); number && i > 1 {
				continue // the rest of a box
			}
			replace(fmt.Sprintf("%s[%d]", path, i+1), func(v any) { tree[i] = v }, old)
		}
	}
}

// Every key that the schema describes is used in the samples, and so is read by
// Parse, and is explained in the manual.
func TestSamplesAndManualKnowEveryKey(t *testing.T) {
	var doc any
	if err := json.Unmarshal(schema.Programme, &doc); err != nil {
		t.Fatal(err)
	}
	full, err := os.ReadFile("testdata/full.yaml")
	if err != nil {
		t.Fatal(err)
	}
	short, err := os.ReadFile("testdata/short.yaml")
	if err != nil {
		t.Fatal(err)
	}
	manual, err := os.ReadFile("../docs/programme.md")
	if err != nil {
		t.Fatal(err)
	}
	eachProperty(doc, func(name string) {
		if !regexp.MustCompile(`(?m)(^|[^\w-])` + name + `:`).Match(append(full, short...)) {
			t.Errorf("the samples do not use the key %s", name)
		}
		if !regexp.MustCompile("[`{ ]" + name + "[`:]").Match(manual) {
			t.Errorf("docs/programme.md does not explain the key %s", name)
		}
	})
}

func eachProperty(v any, do func(name string)) {
	switch v := v.(type) {
	case map[string]any:
		if props, ok := v["properties"].(map[string]any); ok {
			for _, name := range slices.Sorted(maps.Keys(props)) {
				do(name)
			}
		}
		for _, k := range slices.Sorted(maps.Keys(v)) {
			eachProperty(v[k], do)
		}
	case []any:
		for _, item := range v {
			eachProperty(item, do)
		}
	}
}
