package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/file"
	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/nameplate"
)

// plate is what the nameplate command was asked for.
type plate struct {
	nameplate.Plate
	poles       int
	inductance  float64 // H, where it does not change with the rotor's angle
	emf, torque string
	at          float64 // rad/s
	trapezoid   bool
	title       string
	output      string
	json        bool

	supply, mains float64 // V
	current       float64 // A
	speed         float64 // rad/s
	inertia       float64 // kg m²
}

func nameplateCommand() *cobra.Command {
	p := plate{title: "Machine from its nameplate", at: 1000 * math.Pi / 30}
	cmd := &cobra.Command{
		Use:   "nameplate",
		Short: "Make a machine's file of what its nameplate says",
		Long: `Make the file of a permanent-magnet machine of what its nameplate or data sheet
says, or of what a meter reads at its three leads, and say how each figure is
converted. With --supply or --mains, --current and --speed it is a scenario
ready to run.

Resistance and inductance are between two leads, as a meter reads them, star or
delta alike: a phase has half. Where the inductance changes as the rotor is
turned by hand, give the least and the most of it: half of them lie along and
across the magnet.

The EMF is a constant like 86V/krpm or 0.82Vs/rad, or a voltage with --at, the
speed at which it was read with the leads open, say by a cordless drill: a
voltmeter reads line-rms, which is what most sheets mean, too; --emf-of tells
other ways to count. A torque constant like 1.42Nm/A stands for it or checks
it; its ampere is rms, or peak by --per.

Poles are counted as --poles or, half as many, as --pole-pairs. With the shaft
turned at a known speed, pole pairs are 60 times the frequency over the rpm.

A turning rotor makes its open leads live: keep off them while it turns. Measure
resistance and inductance at rest, the leads off a drive that is proved dead.`,
		Example: `  sextant nameplate --poles 8 --resistance 0.9ohm --inductance 6.4mH \
      --emf 86V/krpm
  sextant nameplate --pole-pairs 2 --resistance 0.8ohm --inductance 2.4mH \
      --emf 9.2V --at 600rpm --supply 48V --current 8A --speed 1500rpm \
      -o bench.toml`,
		Args: cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error { return p.do(c) },
	}
	f := cmd.Flags()
	f.IntVar(&p.PolePairs, "pole-pairs", 0, "`number` of pole pairs")
	f.IntVar(&p.poles, "poles", 0, "`number` of poles, in place of --pole-pairs")
	f.Var(si.Resistance.Into(&p.Resistance), "resistance", "`resistance` between two leads")
	f.Var(si.Inductance.Into(&p.inductance), "inductance", "`inductance` between two leads")
	f.Var(si.Inductance.Into(&p.Least), "inductance-least", "least `inductance` between two leads as the rotor turns")
	f.Var(si.Inductance.Into(&p.Most), "inductance-most", "greatest `inductance` between two leads as the rotor turns")
	f.StringVar(&p.emf, "emf", "", "`EMF` constant, like 86V/krpm or 0.82Vs/rad, or the voltage at --at")
	f.Var(si.Speed.Into(&p.at), "at", "`speed` at which --emf was read")
	f.TextVar(&p.Of, "emf-of", nameplate.LineRMS, "`way` that --emf is counted: line-rms, line-peak, phase-rms or phase-peak")
	f.StringVar(&p.torque, "torque-constant", "", "torque `constant`, like 1.42Nm/A")
	f.TextVar(&p.Per, "per", nameplate.RMS, "`ampere` of --torque-constant: rms or peak")
	f.BoolVar(&p.trapezoid, "trapezoid", false, "the EMF has flat tops, as of machines made for six-step gating")
	f.StringVar(&p.title, "title", p.title, "`title` of the file")
	f.Var(si.Voltage.Into(&p.supply), "supply", "`voltage` of the link, to make a scenario")
	f.Var(si.Voltage.Into(&p.mains), "mains", "rms `voltage` between two leads of a three-phase supply, rectified, in place of --supply")
	f.Var(si.Current.Into(&p.current), "current", "`current` of the scenario, peak of a lead")
	f.Var(si.Speed.Into(&p.speed), "speed", "`speed` of the scenario")
	f.Var(si.Inertia.Into(&p.inertia), "inertia", "moment of `inertia`; the scenario's shaft is then free, under a load that holds its speed")
	f.StringVarP(&p.output, "output", "o", "", "write to this `file`, not to standard output")
	f.BoolVar(&p.json, "json", false, "print the parameters as JSON")
	optional(cmd, "resistance", "inductance", "inductance-least", "inductance-most", "at", "supply", "mains", "current", "speed", "inertia")
	complete(cmd, "emf-of", nameplate.Voltages()...)
	complete(cmd, "per", nameplate.Currents()...)
	return cmd
}

func (p *plate) do(c *cobra.Command) error {
	if err := p.settle(c); err != nil {
		return err
	}
	m, err := p.Machine()
	if err != nil {
		return usage("%s", strings.ReplaceAll(err.Error(), "\n", "; "))
	}
	if doubt := p.Doubt(); doubt != "" {
		paragraph(c.ErrOrStderr(), "note    ", doubt)
	}
	write := func(w io.Writer) error {
		if p.json {
			return printJSON(w, parametersOf(m))
		}
		return p.print(w, m)
	}
	if p.output != "" {
		return writeAside(p.output, write)
	}
	return write(c.OutOrStdout())
}

// Figures in SI units that no machine exceeds, from a micromotor's inertia to a large generator's.
const (
	leastFigure = 1e-12
	mostFigure  = 1e9
	mostPairs   = 1000
)

// settle makes the plate of the flags.
func (p *plate) settle(c *cobra.Command) error {
	given := c.Flags().Changed
	if p.PolePairs > mostPairs || p.poles > 2*mostPairs {
		return usage("--poles: are out of range; give %d at most", 2*mostPairs)
	}
	for _, x := range []struct {
		flag  string
		value float64
	}{
		{"pole-pairs", float64(p.PolePairs)}, {"resistance", p.Resistance}, {"inductance", p.inductance}, {"inductance-least", p.Least}, {"inductance-most", p.Most},
		{"at", p.at}, {"supply", p.supply}, {"mains", p.mains}, {"current", p.current}, {"speed", p.speed}, {"inertia", p.inertia},
	} {
		if given(x.flag) && !(x.value >= leastFigure && x.value <= mostFigure) {
			return usage("--%s: is out of range; give more than zero, and what a machine can have", x.flag)
		}
	}
	if p.trapezoid {
		p.Shape = motor.Trapezoid
	}
	switch {
	case given("poles") && given("pole-pairs"):
		return usage("--poles: says the same as --pole-pairs; give one or the other")
	case given("poles") && (p.poles < 2 || p.poles%2 != 0):
		return usage("--poles: %d is not a number of poles; give an even one, like 8", p.poles)
	case given("poles"):
		p.PolePairs = p.poles / 2
	}
	if given("inductance") {
		if given("inductance-least") || given("inductance-most") {
			return usage("--inductance: does not change with the rotor's angle; give it, or --inductance-least and --inductance-most")
		}
		p.Least, p.Most = p.inductance, p.inductance
	}
	if p.Least > 0 && p.Most > 0 && p.Least > p.Most {
		return usage("--inductance-least: is more than --inductance-most")
	}
	var err error
	if given("emf") {
		if p.EMF, err = emfConstant(p.emf, p.at, given("at")); err != nil {
			return usage("--emf: %w", err)
		}
	}
	if given("torque-constant") {
		if p.Torque, err = torqueConstant(p.torque); err != nil {
			return usage("--torque-constant: %w", err)
		}
	}
	for flag, x := range map[string]float64{"emf": p.EMF, "torque-constant": p.Torque} {
		if given(flag) && !(x >= leastFigure && x <= mostFigure) {
			return usage("--%s: is out of range; give what a machine can have", flag)
		}
	}
	if given("supply") && given("mains") {
		return usage("--supply: says the same as --mains; give one or the other")
	}
	for _, flag := range []string{"current", "speed", "inertia"} {
		if given(flag) && !p.runs() {
			return usage("--%s: is of a scenario; give --supply or --mains, too", flag)
		}
	}
	if p.runs() && !(p.current > 0 && p.speed > 0) {
		return usage("--supply and --mains make a scenario; give --current and --speed, too")
	}
	return nil
}

// runs reports whether a scenario is asked for.
func (p *plate) runs() bool { return p.supply > 0 || p.mains > 0 }

// emfConstant reads the EMF in V for each rad/s: a constant, or a voltage at a speed.
func emfConstant(text string, at float64, read bool) (float64, error) {
	const krpm = 1000 * math.Pi / 30
	bare := strings.ReplaceAll(text, " ", "")
	for _, unit := range []struct {
		suffix string
		speed  float64
	}{{"/krpm", krpm}, {"/1000rpm", krpm}, {"/1000min-1", krpm}, {"/rpm", krpm / 1000}, {"s/rad", 1}, {"/(rad/s)", 1}, {"s", 1}} {
		if len(bare) < len(unit.suffix) || !strings.EqualFold(bare[len(bare)-len(unit.suffix):], unit.suffix) {
			continue
		}
		v, err := si.Voltage.Parse(bare[:len(bare)-len(unit.suffix)])
		if err != nil || !(v > 0) {
			break
		}
		if read {
			return 0, errors.New("is a constant, and needs no --at")
		}
		return v / unit.speed, nil
	}
	v, err := si.Voltage.Parse(bare)
	switch {
	case err == nil && v > 0 && read:
		return v / at, nil
	case err == nil && v > 0:
		return 0, fmt.Errorf("%q has no speed; give --at, or a constant like 86V/krpm", text)
	}
	return 0, fmt.Errorf("%q is not an EMF constant; give one like 86V/krpm or 0.82Vs/rad, or a voltage with --at", text)
}

// torqueConstant reads a torque constant, in N m/A.
func torqueConstant(text string) (float64, error) {
	bare, found := strings.CutSuffix(strings.ReplaceAll(text, " ", ""), "/A")
	t, err := si.Torque.Parse(bare)
	if !found || err != nil || !(t > 0) {
		return 0, fmt.Errorf("%q is not a torque constant; give one like 1.42Nm/A", text)
	}
	return t, nil
}

// parameters is a machine as scripts have it.
type parameters struct {
	PolePairs   int     `json:"pole_pairs"`
	Resistance  float64 `json:"resistance_ohm"`
	InductanceD float64 `json:"inductance_d_h"`
	InductanceQ float64 `json:"inductance_q_h"`
	FluxLinkage float64 `json:"flux_linkage_wb"`
	EMF         string  `json:"emf"`
	LineRMS     float64 `json:"emf_line_rms_v_per_krpm"`
	PerRMS      float64 `json:"torque_nm_per_a_rms"`
}

func parametersOf(m motor.Machine) parameters {
	volts, torque := constants(m)
	return parameters{m.PolePairs, m.Resistance, m.InductanceD, m.InductanceQ, m.FluxLinkage, m.EMF.String(), volts, torque}
}

// constants returns a machine's EMF between leads at 1000 rpm, in V rms, and its torque in N m for an ampere rms.
func constants(m motor.Machine) (volts, torque float64) {
	one := nameplate.Plate{PolePairs: m.PolePairs, EMF: 1, Torque: 1, Shape: m.EMF}
	return m.FluxLinkage / one.ByEMF() * 1000 * math.Pi / 30, m.FluxLinkage / one.ByTorque()
}

// digits4 rounds x to four digits.
func digits4(x float64) float64 {
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'e', 3, 64), 64)
	return y
}

// print writes the machine's file, or the scenario's, with what each figure comes from behind it.
func (p *plate) print(w io.Writer, m motor.Machine) error {
	var lines []string
	say := func(format string, args ...any) { lines = append(lines, fmt.Sprintf(format, args...)) }
	key := func(key string, d si.Dimension, x float64, because string) {
		say("%-31s # %s", key+" = "+strconv.Quote(d.Text(digits4(x))), because)
	}
	say("title = %s", file.Quoted(p.title))
	if p.runs() {
		p.sayDrive(say, key)
	}
	say("\n[machine]\nkind = \"permanent-magnet\"")
	if p.poles > 0 {
		say("%-31s # half of %d poles", fmt.Sprintf("pole_pairs = %d", m.PolePairs), p.poles)
	} else {
		say("pole_pairs = %d", m.PolePairs)
	}
	key("resistance", si.Resistance, m.Resistance, "of a phase: half of "+si.Resistance.Text(p.Resistance)+" between leads")
	along, across := "half of "+si.Inductance.Text(p.Least)+" between leads", "the same across the magnet"
	if p.Least != p.Most {
		along = "half of the least between leads, " + si.Inductance.Text(p.Least)
		across = "half of the most, " + si.Inductance.Text(p.Most)
	}
	key("inductance_d", si.Inductance, m.InductanceD, along)
	key("inductance_q", si.Inductance, m.InductanceQ, across)
	key("flux_linkage", si.Flux, m.FluxLinkage, p.source())
	if m.EMF != motor.Sine {
		say("emf = %q", m.EMF)
	}
	volts, torque := constants(m)
	hertz := 1000.0 / 60 * float64(m.PolePairs)
	remark := func(format string, args ...any) {
		for _, line := range fold(fmt.Sprintf(format, args...), columns-len("# ")) {
			say("# %s", line)
		}
	}
	remark("At 1000 rpm it makes %s rms between open leads, at %s; an ampere rms makes %s.", si.Voltage.Format(volts, 3), si.Frequency.Format(hertz, 3), si.Torque.Format(torque, 3))
	if doubt := p.Doubt(); doubt != "" {
		remark("Doubtful: %s.", doubt)
	}
	if p.runs() {
		p.sayRun(say, remark, key, m)
	}
	_, err := fmt.Fprintln(w, strings.Join(lines, "\n"))
	return err
}

// source says what the flux linkage comes from.
func (p *plate) source() string {
	if p.EMF == 0 {
		return fmt.Sprintf("peak of a phase: %s N m/A %v", strconv.FormatFloat(digits4(p.Torque), 'g', -1, 64), p.Per)
	}
	return fmt.Sprintf("peak of a phase: %s at 1000 rpm, %v", si.Voltage.Text(digits4(p.EMF*1000*math.Pi/30)), p.Of)
}

// link returns the voltage of the link: of a three-phase bridge of diodes the mean, 3√2/π of the rms.
//
// Mohan, Undeland, Robbins, Power Electronics, 3rd ed. (Wiley, 2003), eq. 5-68.
func (p *plate) link() float64 {
	if p.mains > 0 {
		return 3 * math.Sqrt2 / math.Pi * p.mains
	}
	return p.supply
}

func (p *plate) sayDrive(say func(string, ...any), key func(string, si.Dimension, float64, string)) {
	say("\n[supply]")
	if p.mains > 0 {
		key("voltage", si.Voltage, p.link(), "1.35 times "+si.Voltage.Text(p.mains)+" rms, rectified")
	} else {
		say("voltage = %q", si.Voltage.Text(p.supply))
	}
	if p.Shape == motor.Trapezoid {
		say("\n[gating]\npattern = \"six-step-120\"\nfollow = \"rotor\"")
		key("chop", si.Number, p.chop(), "EMF and drop; commutation takes more")
		say("carrier = \"10 kHz\"")
		return
	}
	say("\n[gating]\npattern = \"space-vector\"\nfollow = \"current\"")
	key("iq", si.Current, p.current, "peak: rms times 1.414")
	key("carrier", si.Frequency, 8000, "of this drive, if you know it")
	key("dead_time", si.Time, 2e-6, "likewise")
}

// chop returns the duty at which a supply drives the current against the EMFs of two leads and their resistance.
func (p *plate) chop() float64 {
	flat := 2 * p.Flux() * float64(p.PolePairs) * p.speed
	return min(1, (flat+p.Resistance*p.current)/p.link())
}

func (p *plate) sayRun(say, remark func(string, ...any), key func(string, si.Dimension, float64, string), m motor.Machine) {
	say("\n[shaft]")
	rpm := si.Speed.Text(p.speed)
	if p.inertia > 0 {
		load := m.Torque(motor.DQ{Q: p.current})
		if m.EMF == motor.Trapezoid {
			load = 2 * float64(m.PolePairs) * m.FluxLinkage * p.current
		}
		say("free = true\ninertia = %q\nstart_speed = %q", si.Inertia.Text(p.inertia), rpm)
		key("load_torque", si.Torque, load, "of this current: the speed about holds")
	} else {
		say("speed = %q", rpm)
	}
	hertz := p.speed * float64(m.PolePairs) / (2 * math.Pi)
	say("\n[run]\nsettle = \"100 ms\"")
	key("measure", si.Time, 6/hertz, "six turns of the field, at "+si.Frequency.Format(hertz, 4))
	v := m.Voltage(motor.DQ{Q: p.current}, p.speed*float64(m.PolePairs))
	if need, most := math.Hypot(v.D, v.Q), p.link()/math.Sqrt(3); m.EMF == motor.Sine && need > most {
		remark("This needs %s peak of a phase, and the link gives %s: the current will fall short. Lower speed or current, or weaken the field by id.",
			si.Voltage.Format(need, 3), si.Voltage.Format(most, 3))
	}
}
