package web

import (
	"net/http"
	"strconv"
	"syscall"
	"testing"
	"time"
)

// processor is the time that this process has had so far, which a machine with
// other work to do does not lengthen.
func processor(b *testing.B) time.Duration {
	b.Helper()
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func measured(b *testing.B, once func(i int)) {
	once(0)
	from, i := processor(b), 0
	for b.Loop() {
		i++
		once(i)
	}
	b.ReportMetric(float64((processor(b)-from).Microseconds())/1000/float64(b.N), "cpu-ms/op")
}

// BenchmarkChange sets another black rule and asks for what the page then shows
// of a card: its verdicts and the panels of its front.
func BenchmarkChange(b *testing.B) {
	on, rules := bench(b), []string{"exact", "objects"}
	measured(b, func(i int) {
		ask(on, request(http.MethodPost, "/api/black", `{"side":"front","rule":"`+rules[i%2]+`"}`))
		ask(on, request(http.MethodGet, "/api/card/0", ""))
		ask(on, request(http.MethodGet, "/api/card/0/panels/front", ""))
	})
}

// BenchmarkCard asks for a card that is not at hand.
func BenchmarkCard(b *testing.B) {
	on := bench(b)
	measured(b, func(i int) { ask(on, request(http.MethodGet, "/api/card/"+strconv.Itoa(i%cards), "")) })
}

// BenchmarkRules asks for a card under every rule, and BenchmarkEye for its
// picture.
func BenchmarkRules(b *testing.B) {
	on := bench(b)
	measured(b, func(int) { ask(on, request(http.MethodGet, "/api/card/0/rules", "")) })
}

func BenchmarkEye(b *testing.B) {
	on := bench(b)
	measured(b, func(int) { ask(on, request(http.MethodGet, "/api/card/0/eye/front.png", "")) })
}
