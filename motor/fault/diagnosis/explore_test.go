package diagnosis_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"
	"time"

	"sextant/motor/fault/capture"
	"sextant/motor/fault/signature"
)

func TestExplore(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	all := truths()
	t0 := time.Now()
	out, _ := os.Create("/tmp/explore.csv")
	fmt.Fprintln(out, "fault,at,mode,amp,hzerr,drift,turns,mean,meanang,even,odd,neg,negang,rmsmin,noise,doubt,eU,eV,eW,scene")
	for k := range 300 {
		mode := modes[k%len(modes)]
		tr := all[(k/len(modes))%len(all)]
		w, err := simulate(r, mode, tr)
		if err != nil {
			t.Log(w.scene, err)
			continue
		}
		var c capture.Capture
		for i, x := range w.current {
			c.Time = append(c.Time, float64(i)*w.step)
			c.Current = append(c.Current, x)
		}
		near, err := signature.Near(&c)
		if err != nil {
			t.Log(w.scene, err)
			continue
		}
		s, err := signature.Of(&c, near)
		if err != nil {
			t.Log(w.scene, err)
			continue
		}
		m, a := s.MeanVector()
		e := s.Shortfall()
		big := max(s.RMS[0], s.RMS[1], s.RMS[2])
		fmt.Fprintf(out, "%s,%s,%s,%.3g,%.3f,%.3f,%d,%.3f,%.0f,%.3f,%.3f,%.3f,%.0f,%.3f,%.3g,%.3g,%.2f,%.2f,%.2f,%q\n", tr.fault, tr.at, mode, s.Amplitude()/w.rated, s.Hz/w.hz-1, s.Drift, s.Turns, m, a*180/math.Pi, s.Even(), s.Odd(), s.Negative(), 0.0,
			min(s.RMS[0], s.RMS[1], s.RMS[2])/big, s.Noise/s.Amplitude(), s.Doubt(), e[0], e[1], e[2], w.scene)
	}
	t.Log(time.Since(t0))
}

func truths() []truth {
	all := []truth{{"healthy", ""}, {"healthy", ""}, {"healthy", ""}}
	for _, p := range []string{"U", "V", "W"} {
		all = append(all, truth{"switch-open", p + "+"}, truth{"switch-open", p + "-"}, truth{"phase-open", p}, truth{"phase-resistance", p})
	}
	return all
}
