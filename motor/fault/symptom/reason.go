package symptom

import (
	"cmp"
	"math"
	"slices"
)

// An Observation is a sign that somebody looked for.
type Observation struct {
	Sign *Sign
	Seen bool // or looked for and not seen
}

// A Suspect is a fault with how probable it is after the observations.
type Suspect struct {
	Fault       string  `json:"fault"`
	Probability float64 `json:"probability"`
	For         []Sign  `json:"for"`     // observed signs that speak for it
	Against     []Sign  `json:"against"` // observed signs that speak against it
}

// A Question is a further observation with how much it would tell.
type Question struct {
	Sign
	Bits float64 `json:"bits"` // expected information on which fault it is
	Yes  string  `json:"yes"`  // the likeliest fault if it is seen
	No   string  `json:"no"`   // and if not
}

// mistaken is how often a person sees a sign that is not there, or misses one that is: common practice.
const mistaken = 0.1

// Healthy is the name of the drive that has no fault.
const Healthy = "healthy"

// Rank returns the faults by falling probability after observations, by Bayes' rule with the shares of the chart
// as likelihoods, each sign by itself, and every fault and no fault equally probable before:
//
//	P(fault | signs) ∝ Π P(sign | fault),  P(sign | fault) = (1-ε) share + ε (1-share)
//
// ε is how often people err. Faults that cannot show in this drive are left out.
func (c *Chart) Rank(seen []Observation) []Suspect {
	var list []Suspect
	for _, h := range c.hypotheses() {
		s := Suspect{Fault: h.name, Probability: 1}
		for _, o := range seen {
			p := likelihood(h.share[index(o.Sign)], o.Seen)
			s.Probability *= p
			if p > 0.5 {
				s.For = append(s.For, *o.Sign)
			} else {
				s.Against = append(s.Against, *o.Sign)
			}
		}
		list = append(list, s)
	}
	sum := 0.0
	for _, s := range list {
		sum += s.Probability
	}
	for i := range list {
		list[i].Probability /= sum
	}
	slices.SortStableFunc(list, func(a, b Suspect) int { return cmp.Compare(b.Probability, a.Probability) })
	return list
}

// Next returns the further observations that separate the faults best, by falling expected information:
//
//	I = H(fault) - P(yes) H(fault | yes) - P(no) H(fault | no),  H = -Σ p log₂ p
//
// C. E. Shannon, "A mathematical theory of communication", Bell Syst. Tech. J. 27 (1948), 379-423.
func (c *Chart) Next(seen []Observation) []Question {
	prior := c.Rank(seen)
	h := entropy(prior)
	var list []Question
	for i := range Signs {
		s := &Signs[i]
		if slices.ContainsFunc(seen, func(o Observation) bool { return o.Sign == s }) {
			continue
		}
		yes := c.Rank(append(slices.Clone(seen), Observation{s, true}))
		no := c.Rank(append(slices.Clone(seen), Observation{s, false}))
		p := 0.0
		for _, x := range prior {
			p += x.Probability * likelihood(c.share(x.Fault, i), true)
		}
		q := Question{Sign: *s, Bits: math.Max(0, h-p*entropy(yes)-(1-p)*entropy(no)), Yes: yes[0].Fault, No: no[0].Fault}
		list = append(list, q)
	}
	slices.SortStableFunc(list, func(a, b Question) int { return cmp.Compare(b.Bits, a.Bits) })
	return list
}

// A hypothesis is a fault, or none, with the share of each sign.
type hypothesis struct {
	name  string
	share []float64
}

func (c *Chart) hypotheses() []hypothesis {
	list := []hypothesis{{Healthy, make([]float64, len(Signs))}}
	for _, r := range c.Rows {
		if r.Hidden == "" {
			list = append(list, hypothesis{r.Fault, r.Share})
		}
	}
	return list
}

func (c *Chart) share(fault string, sign int) float64 {
	for _, h := range c.hypotheses() {
		if h.name == fault {
			return h.share[sign]
		}
	}
	return 0
}

func likelihood(share float64, seen bool) float64 {
	p := (1-mistaken)*share + mistaken*(1-share)
	if seen {
		return p
	}
	return 1 - p
}

func index(s *Sign) int {
	return slices.IndexFunc(Signs, func(x Sign) bool { return x.Key == s.Key })
}

func entropy(list []Suspect) float64 {
	h := 0.0
	for _, x := range list {
		if x.Probability > 0 {
			h -= x.Probability * math.Log2(x.Probability)
		}
	}
	return h
}
