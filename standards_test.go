package unspool_test

import (
	"os"
	"path"
	"regexp"
	"strings"
	"testing"
)

// What STANDARDS.md writes between backquotes as a file, with or without
// identifiers of it, or as a test of a package.
var (
	namedFile = regexp.MustCompile(`^([\w./-]+\.(?:go|md|csv|txt|html|json|tmpl|ps))(?:: ([\w, ]+))?$`)
	namedTest = regexp.MustCompile(`^([a-z][\w/]*)\.((?:Test|Fuzz|Benchmark)\w+)$`)
)

// STANDARDS.md names only files, identifiers and tests that are there, and each
// of its figures names where it is used and what holds it.
func TestStandardsNamesWhatIsThere(t *testing.T) {
	src, err := os.ReadFile("STANDARDS.md")
	if err != nil {
		t.Fatal(err)
	}
	files, tests := 0, 0
	for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(string(src), -1) {
		if f := namedFile.FindStringSubmatch(m[1]); f != nil {
			files++
			holdsIdentifiers(t, f[1], f[2])
		} else if f := namedTest.FindStringSubmatch(m[1]); f != nil {
			tests++
			hasTest(t, f[1], f[2])
		} else if strings.Contains(m[1], "/") || strings.Contains(m[1], ".Test") {
			t.Errorf("STANDARDS.md: %q is written neither as a file nor as a test", m[1])
		}
	}
	if files < 100 || tests < 100 {
		t.Errorf("read only %d files and %d tests out of STANDARDS.md", files, tests)
	}
	rows := 0
	for n, line := range strings.Split(string(src), "\n") {
		cells := strings.Split(line, "|")
		if len(cells) != 8 || strings.HasPrefix(line, "|---") || strings.TrimSpace(cells[1]) == "figure" {
			continue
		}
		rows++
		if !strings.Contains(cells[3], "`") {
			t.Errorf("STANDARDS.md:%d: the figure says not where it is used", n+1)
		}
		if strings.TrimSpace(cells[6]) != "none" && !strings.Contains(cells[6], "`") {
			t.Errorf("STANDARDS.md:%d: write the test that holds the figure, or none", n+1)
		}
		for mark := range strings.FieldsFuncSeq(cells[5], func(r rune) bool { return r == ',' || r == ';' }) {
			if !knownMark(mark) {
				t.Errorf("STANDARDS.md:%d: %q is no mark", n+1, strings.TrimSpace(mark))
			}
		}
	}
	if rows < 100 {
		t.Errorf("read only %d figures out of STANDARDS.md", rows)
	}
}

// knownMark takes "read" and "figures of the standard read" alike.
func knownMark(mark string) bool {
	words := strings.Fields(mark)
	if len(words) == 0 {
		return false
	}
	switch words[len(words)-1] {
	case "read", "memory", "practice", "own", "definition":
		return true
	}
	return false
}

// holdsIdentifiers checks a file and the words it is said to hold.
func holdsIdentifiers(t *testing.T, name, identifiers string) {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Errorf("STANDARDS.md: %v", err)
		return
	}
	for id := range strings.SplitSeq(identifiers, ", ") {
		if id != "" && !regexp.MustCompile(`\b`+id+`\b`).Match(text) {
			t.Errorf("STANDARDS.md: %s has no %s", name, id)
		}
	}
}

// hasTest checks that a package declares a test.
func hasTest(t *testing.T, dir, name string) {
	t.Helper()
	for _, text := range testsOf(t, dir) {
		if strings.Contains(text, "\nfunc "+name+"(") {
			return
		}
	}
	t.Errorf("STANDARDS.md: package %s has no test %s", dir, name)
}

// testsOf is the text of a package's test files.
func testsOf(t *testing.T, dir string) (texts []string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Errorf("STANDARDS.md: %v", err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), "_test.go") {
			text, err := os.ReadFile(path.Join(dir, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			texts = append(texts, string(text))
		}
	}
	return texts
}
