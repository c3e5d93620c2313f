package unspool_test

import (
	"encoding/json"
	"errors"
	"io"
	"os"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// The imports are those that the table in DESIGN.md allows, and the pure rooms
// touch neither files, network nor clock.
func TestRoomsImportWhatTheDesignAllows(t *testing.T) {
	allowed := roomTable(t)
	impure := []string{"os", "os/exec", "net", "net/http", "database/sql", "time", "math/rand", "math/rand/v2", "crypto/rand", "syscall"}
	door := []string{"folder", "web", "cmd/unspool", "symbol/symboltest"} // where files are opened, pages answered and tools run
	for _, p := range packages(t) {
		name := strings.TrimPrefix(p.ImportPath, "unspool/")
		may, known := allowed[name]
		if !known {
			if p.ImportPath != "unspool" && len(p.GoFiles) > 0 {
				t.Errorf("DESIGN.md has no room %s", name)
			}
			continue
		}
		delete(allowed, name)
		for _, i := range p.Imports {
			short, ours := strings.CutPrefix(i, "unspool/")
			switch {
			case ours && !slices.Contains(may, "any") && !slices.Contains(may, short):
				t.Errorf("%s imports %s, which DESIGN.md does not allow", name, short)
			case !ours && slices.Contains(impure, i) && !slices.Contains(door, name):
				t.Errorf("%s imports %s; it must be pure", name, i)
			}
		}
	}
	for name := range allowed {
		t.Errorf("DESIGN.md names a room %s that is not there", name)
	}
}

type listed struct {
	ImportPath       string
	GoFiles, Imports []string
}

func packages(t *testing.T) (all []listed) {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,GoFiles,Imports", "./...").Output()
	if err != nil {
		t.Fatal(err)
	}
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return all
		} else if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
}

// roomTable reads the table of rooms: room -> what it may import.
func roomTable(t *testing.T) map[string][]string {
	t.Helper()
	src, err := os.ReadFile("DESIGN.md")
	if err != nil {
		t.Fatal(err)
	}
	rooms := map[string][]string{}
	_, after, _ := strings.Cut(string(src), "## The rooms")
	section, _, _ := strings.Cut(after, "\n## ")
	for line := range strings.Lines(section) {
		cells := strings.Split(strings.TrimSpace(line), "|")
		if len(cells) != 5 || strings.HasPrefix(cells[1], "---") || strings.TrimSpace(cells[1]) == "room" {
			continue
		}
		var may []string
		for m := range strings.SplitSeq(cells[3], ",") {
			if m = strings.TrimSpace(m); m != "" {
				may = append(may, m)
			}
		}
		for room := range strings.SplitSeq(cells[1], ",") {
			rooms[strings.TrimSpace(room)] = may
		}
	}
	if len(rooms) < 20 {
		t.Fatalf("read only %d rooms out of DESIGN.md", len(rooms))
	}
	return rooms
}
