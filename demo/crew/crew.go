// Package crew invents the people of the Sundhaven ferry line. None of them
// lives; the same place in the list is always the same person.
package crew

import (
	"fmt"
	"math"

	"unspool/demo/portrait"
)

// Most is the largest crew that Crew invents.
const Most = 100_000

// Member is one invented person of the line.
type Member struct {
	Number   string // crew number, six digits, some with leading zeros
	Stores   string // number for the stores' counter: SH and eight digits
	Name     string // whole name, in its own script and order
	Given    string
	Family   string
	Latin    string // whole name in plain Latin letters, given name first
	Script   Script
	Role     string
	Port     string // home port
	Until    string // last day of the card, year-month-day
	Portrait portrait.Person
}

// Crew invents n members, at most Most; a longer crew begins with the shorter
// one. A negative n gives none.
func Crew(n int) []Member {
	n = max(0, min(n, Most))
	names := pools()
	crew := make([]Member, n)
	for i := range crew {
		crew[i] = member(i, names)
	}
	return crew
}

func member(i int, names []pool) Member {
	l := luck(i)
	p := person(i, &l)
	m := Member{
		Number:   fmt.Sprintf("%06d", number(i)),
		Stores:   fmt.Sprintf("SH%08d", stores(i)),
		Role:     l.pick(roles),
		Port:     l.pick(ports),
		Until:    l.pick(ends),
		Portrait: p,
	}
	m.christen(&names[dealt[i%len(dealt)]], i, p.Woman)
	return m
}

// christen gives member i a name of the pool. Names repeat only when every
// pair of given and family name of the pool has been used.
func (m *Member) christen(p *pool, i int, woman bool) {
	first := p.men
	if woman {
		first = p.women
	}
	n, step := turn(i), lcm(len(first), len(p.families))
	given, family := first[n%len(first)], p.families[(n+n/step)%len(p.families)]
	last := family.man
	if woman {
		last = family.woman
	}
	m.Script, m.Given, m.Family = p.script, given.own, last.own
	m.Latin = given.latin + " " + last.latin
	m.Name = given.own + " " + last.own
	if p.familyFirst {
		m.Name = last.own + " " + given.own
	}
}

// lcm is the least common multiple of two positive numbers.
func lcm(a, b int) int {
	m := a
	for m%b != 0 {
		m += a
	}
	return m
}

// turn counts how often the script of member i was dealt before.
func turn(i int) int {
	script := dealt[i%len(dealt)]
	each, before := 0, 0
	for j, s := range dealt {
		if s == script {
			each++
			if j < i%len(dealt) {
				before++
			}
		}
	}
	return i/len(dealt)*each + before
}

// dealt is the order in which the scripts come up: indices into pools.
var dealt = [...]int{0, 1, 0, 3, 0, 4, 2, 0, 6, 0, 5, 0, 3, 1, 0, 6, 0, 2, 4, 0}

var (
	roles = []string{"Deckhand", "Deckhand", "Deckhand", "Able seafarer", "Able seafarer", "Bosun", "Engineer", "Second engineer",
		"Motor hand", "Steward", "Steward", "Cook", "Purser", "Ticket clerk", "Second mate", "Chief mate", "Master"}
	ports = []string{"Sundhaven", "Marrowquay", "Eldersund", "Kittiwick", "Graylehythe", "Lanternness", "Vessick", "Ternholt"}
	ends  = []string{"2028-03-31", "2028-09-30", "2029-03-31", "2029-09-30", "2030-03-31"}
)

// number is the i-th crew number. The factor has no divisor in common with
// 1,000,000, so that no number comes twice.
func number(i int) int { return (i*611_953 + 4217) % 1_000_000 }

// stores is the i-th number at the stores, likewise without repeats.
func stores(i int) int { return (i*38_196_601 + 20_718_354) % 100_000_000 }

// luck is a small deterministic generator (the SplitMix64 step, Steele, Lea
// and Flood, 2014).
type luck uint64

func (l *luck) next() uint64 {
	*l += 0x9e3779b97f4a7c15
	z := uint64(*l)
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

func (l *luck) below(n int) int { return int(l.next() % uint64(n)) }

func (l *luck) float() float64 { return float64(l.next()>>11) / (1 << 53) }

func (l *luck) pick(from []string) string { return from[l.below(len(from))] }

// person invents the looks of member i. They owe nothing to the name: skin
// runs evenly from light to dark along the list whatever the script.
func person(i int, l *luck) portrait.Person {
	*l = luck(uint64(i)*0x5851f42d4c957f2d + 0x5d)
	p := portrait.Person{Seed: l.next(), Woman: i%2 == 1, Age: 20 + l.below(45)}
	_, p.Skin = math.Modf(0.12 + float64(i)*0.6180339887)
	p.Hair = hair(p.Skin, p.Age, l)
	p.Glasses = l.float() < 0.18
	if p.Woman {
		p.Style = style(womanStyles, l)
		return p
	}
	p.Style = style(manStyles, l)
	if p.Age < 34 && (p.Style == portrait.Bald || p.Style == portrait.Receding) {
		p.Style = portrait.Short
	}
	p.Beard = [...]portrait.Beard{portrait.Shaven, portrait.Shaven, portrait.Shaven, portrait.Stubble, portrait.Stubble,
		portrait.FullBeard, portrait.FullBeard, portrait.Moustache}[l.below(8)]
	return p
}

// hair is a likely colour: fair and red hair go with light skin, grey with
// age.
func hair(skin float64, age int, l *luck) portrait.Hair {
	k := l.float()
	switch {
	case age > 48 && l.float() < float64(age-44)/32:
		return portrait.Grey
	case skin > 0.45:
		if k < 0.86 {
			return portrait.Black
		}
		return portrait.DarkBrown
	case k < 0.34:
		return portrait.Black
	case k < 0.5:
		return portrait.DarkBrown
	case k < 0.72:
		return portrait.Brown
	case k < 0.92:
		return portrait.Blond
	}
	return portrait.Red
}

var (
	manStyles = []portrait.Style{portrait.Short, portrait.Short, portrait.Short, portrait.Short, portrait.Short, portrait.Crop, portrait.Crop,
		portrait.Curly, portrait.Curly, portrait.Afro, portrait.Receding, portrait.Bald}
	womanStyles = []portrait.Style{portrait.Bob, portrait.Bob, portrait.Bob, portrait.Long, portrait.Long, portrait.Long,
		portrait.Bun, portrait.Bun, portrait.Bun, portrait.Curly, portrait.Afro, portrait.Scarf}
)

func style(from []portrait.Style, l *luck) portrait.Style { return from[l.below(len(from))] }
