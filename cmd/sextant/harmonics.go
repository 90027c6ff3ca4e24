package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/pattern"
	"sextant/inverter/si"
	"sextant/inverter/spectrum"
)

// mostOrders bounds the table of harmonics.
const mostOrders = 100_000

// harmonics is what the command of that name was asked for.
type harmonics struct {
	settings pattern.Settings
	of       spectrum.Voltage
	supply   float64 // V
	lag      float64 // rad
	orders   int
	all      bool
	json     bool
}

func harmonicsCommand() *cobra.Command {
	h := harmonics{supply: 2, settings: pattern.Settings{Modulation: 0.8}}
	cmd := &cobra.Command{
		Use:   "harmonics",
		Short: "Show the exact spectrum and distortion of the bridge's voltage",
		Long: `Show the exact spectrum of the pole, line or phase voltage that a gating pattern
makes, from its switching instants: nothing is sampled. The wave is the sum of
peak cos(n 2 pi f t + angle) over the orders n.

THD and weighted THD come from the exact rms and count everything, also what
lies between and beyond the orders listed. The pole voltage is taken from
mid-rail. A supply of 2 V gives peaks over half the supply.

With a dead time, a leg with both switches off follows its current, which is
taken to be a sine that lags the fundamental by --lag.`,
		Example: `  sextant harmonics --modulation 0.8 --carrier-ratio 39 --of line
  sextant harmonics --pattern six-step-180 --supply 350V --of phase --orders 25
  sextant harmonics --pattern space-vector --carrier-ratio 39 --modulation 1.1 \
      --frequency 200Hz --dead-time 2us --lag 20deg`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return h.print(c) },
	}
	f, s := cmd.Flags(), &h.settings
	f.TextVar(&s.Kind, "pattern", pattern.SineTriangle, "gating `pattern`; \"sextant list patterns\" shows them")
	f.Var(si.Number.Into(&s.Modulation), "modulation", "modulation `index`: peak of the fundamental pole reference over half the supply, 0 to 4/pi")
	f.Var(si.Number.Into(&s.CarrierRatio), "carrier-ratio", "`ratio` of the carrier frequency to that of the fundamental")
	f.Var(si.Frequency.Into(&s.Carrier), "carrier", "carrier `frequency`, with --frequency")
	f.Var(si.Frequency.Into(&s.Frequency), "frequency", "`frequency` of the fundamental")
	f.TextVar(&s.Sampling, "sampling", pattern.Default, "`sampling` of the reference: natural, regular or regular-double; default is natural, for clamped patterns regular-double")
	f.Var(si.Angle.Into(&s.Phase), "phase", "`angle` of the fundamental voltage vector at t = 0")
	f.Var(si.Time.Into(&s.DeadTime), "dead-time", "`time` by which turn-ons are delayed, with --frequency")
	f.Var(si.Angle.Into(&h.lag), "lag", "`angle` by which the current lags the fundamental, with --dead-time")
	f.Var(si.Voltage.Into(&h.supply), "supply", "supply `voltage`")
	f.TextVar(&h.of, "of", spectrum.Pole, "which `voltage`: pole, line or phase")
	f.IntVar(&h.orders, "orders", 100, "`number` of orders to list")
	f.BoolVar(&h.all, "all", false, "list the orders that are zero, too")
	f.BoolVar(&h.json, "json", false, "print JSON, of all orders")
	optional(cmd, "carrier-ratio", "carrier", "frequency", "sampling", "phase", "dead-time", "lag")
	var kinds []string
	for _, k := range pattern.Kinds() {
		kinds = append(kinds, k.String())
	}
	complete(cmd, "pattern", kinds...)
	complete(cmd, "of", "pole", "line", "phase")
	complete(cmd, "sampling", "natural", "regular", "regular-double")
	return cmd
}

// harmonicsReport is what --json prints. A distortion is null where there is no fundamental.
type harmonicsReport struct {
	Of          spectrum.Voltage `json:"of"`
	Supply      float64          `json:"supply_v"`
	RMS         float64          `json:"rms_v"`
	THD         *float64         `json:"thd_percent"`
	WeightedTHD *float64         `json:"weighted_thd_percent"`
	Harmonics   []harmonicReport `json:"harmonics"`
}

type harmonicReport struct {
	Order int     `json:"order"`
	Peak  float64 `json:"peak_v"`
	Angle float64 `json:"angle_deg"`
}

// ask completes the settings from the flags given, and refuses what does not go together.
func (h *harmonics) ask(c *cobra.Command) error {
	given := c.Flags().Changed
	switch {
	case h.orders < 1 || h.orders > mostOrders:
		return usage("--orders: %d is out of range; give 1 to %d", h.orders, mostOrders)
	case h.settings.Kind == pattern.PulsedLow || !h.settings.Kind.Stepped() && !h.settings.Kind.Compares():
		return usage("--pattern: %v has no fundamental and so no harmonics; give a six-step or a carrier pattern", h.settings.Kind)
	case given("frequency"):
	case h.settings.DeadTime != 0:
		return usage("--dead-time: is a part of the turn only at a --frequency; give that too")
	case h.settings.Carrier != 0:
		return usage("--carrier: is a ratio only to a --frequency; give that too, or --carrier-ratio")
	default:
		h.settings.Frequency = 1 // any: at a given ratio the spectrum is the same at all
	}
	if h.settings.Kind.Compares() && h.settings.Carrier == 0 && h.settings.CarrierRatio == 0 {
		return usage("--carrier-ratio: %v needs a carrier; give a ratio like 39, or --carrier and --frequency", h.settings.Kind)
	}
	return nil
}

func (h *harmonics) print(c *cobra.Command) error {
	if err := h.ask(c); err != nil {
		return err
	}
	wave, err := spectrum.Of(h.settings, h.of, h.supply, h.lag)
	if err != nil {
		return flagError(err)
	}
	series := make([]spectrum.Harmonic, h.orders)
	wave.Harmonics(series)
	r := harmonicsReport{Of: h.of, Supply: h.supply, RMS: wave.RMS(), THD: percent(wave.THD()), WeightedTHD: percent(wave.WeightedTHD())}
	for _, x := range series {
		r.Harmonics = append(r.Harmonics, harmonicReport{x.Order, x.Peak, x.Angle * 180 / math.Pi})
	}
	if h.json {
		return printJSON(c.OutOrStdout(), r)
	}
	return h.table(c.OutOrStdout(), r)
}

// percent returns a ratio in per cent, or nil where there is none.
func percent(ratio float64, ok bool) *float64 {
	if !ok || math.IsNaN(ratio) || math.IsInf(ratio, 0) {
		return nil
	}
	p := 100 * ratio
	return &p
}

func (h *harmonics) table(w io.Writer, r harmonicsReport) error {
	fmt.Fprintf(w, "%s voltage of %s, supply %s\n", h.of, h.described(), si.Voltage.Text(h.supply))
	volts := scaleFor(h.supply, "V", 5)
	say := func(p *float64) string {
		if p == nil {
			return "none"
		}
		return fmt.Sprintf("%.4f %%", *p)
	}
	fmt.Fprintf(w, "rms %s, THD %s, weighted THD %s\n\n", volts.with(r.RMS), say(r.THD), say(r.WeightedTHD))
	rows := [][]string{{"order", "peak " + volts.unit, "of fundamental", "angle deg"}}
	hidden, first := 0, r.Harmonics[0].Peak
	for _, x := range r.Harmonics {
		if !h.all && strings.Trim(volts.of(x.Peak), "0.") == "" {
			hidden++
			continue
		}
		share := "-"
		if first > 0 {
			share = fmt.Sprintf("%.3f %%", 100*x.Peak/first)
		}
		rows = append(rows, []string{fmt.Sprint(x.Order), volts.of(x.Peak), share, angle(x.Angle)})
	}
	if err := table(w, rows); err != nil {
		return err
	}
	if hidden > 0 {
		_, err := fmt.Fprintf(w, "\n%d of the first %d orders round to zero and are left out; --all lists them\n", hidden, h.orders)
		return err
	}
	return nil
}

// described says what the pattern was set to.
func (h *harmonics) described() string {
	s := h.settings
	text := s.Kind.String()
	if s.Kind.Compares() {
		text += fmt.Sprintf(", modulation %g", s.Modulation)
		if s.CarrierRatio > 0 {
			text += fmt.Sprintf(", %g carriers a turn", s.CarrierRatio)
		} else {
			text += ", carrier " + si.Frequency.Text(s.Carrier)
		}
	}
	return text
}

// angle writes degrees from -180, exclusive, to 180.
func angle(deg float64) string {
	if s := fixed(deg, 2); s != "-180.00" {
		return s
	}
	return "180.00"
}
