package main

import (
	"fmt"
	"math"
	"slices"

	"github.com/spf13/cobra"

	"sextant/inverter/device"
	"sextant/inverter/file"
	"sextant/inverter/si"
	"sextant/motor/envelope"
	"sextant/motor/pair"
	"sextant/motor/scenario"
	"sextant/render/picture"
)

// limits is what the envelope command was asked for.
type limits struct {
	pair     pair.Pair
	device   string
	ideal    bool
	junction float64 // °C
	to       float64 // greatest speed, mechanical rad/s
	points   int     // speeds, and torques
	json     bool
	csv      string
	plot     plotting

	title string
	of    *device.Device // nil for an ideal bridge
	marks envelope.Marks
	found envelope.Map
}

func envelopeCommand() *cobra.Command {
	r := limits{pair: pair.Pair{Carrier: 10e3, DeadTime: 2e-6}, junction: 125}
	cmd := &cobra.Command{
		Use:   "envelope FILE",
		Short: "Show what a machine and its bridge can do, and how efficiently",
		Long: `Work out the limits of torque of a machine at each speed, within the current
that is allowed and the voltage that the supply gives: most torque per ampere
up to the corner speed, then a field weakened along both limits, then most
torque per volt. Between the limits, each torque is made by the least current,
and the efficiency is that of machine and bridge together.

FILE is a machine or a scenario, built-in or a file; a scenario also gives the
supply, the pattern, the carrier and the dead time. Flags go over it.

The phase currents are taken to be sines. The machine's heat is its copper's,
and what --drag and --drag-slope say of iron and friction: without those, light
loads look better than they are. What the bridge's drops take off the voltage is
not counted. Above the speed at which the EMF exceeds the supply the machine
feeds the link through the diodes as soon as the gates go off.`,
		Example: `  sextant envelope hauler --supply 350V --current 300A
  sextant envelope hauler --supply 350V --current 300A --plot envelope.png
  sextant envelope hauler-climb --current 300A --device igbt-750 --csv map.csv`,
		Args:              exactlyOne("envelope reads one machine or scenario: give a file, or a name that \"sextant list\" shows"),
		ValidArgsFunction: completeFirst(scenario.Machines, scenario.Names),
		RunE:              func(c *cobra.Command, args []string) error { return r.do(c, args[0]) },
	}
	f := cmd.Flags()
	flagsOfPair(cmd, &r.pair)
	f.StringVar(&r.device, "device", "sic-750", "`device` of the bridge, built-in or file")
	f.BoolVar(&r.ideal, "ideal", false, "leave out the bridge's heat")
	f.Var(si.Temperature.Into(&r.junction), "junction", "`temperature` of the junctions")
	f.Var(si.Speed.Into(&r.to), "to", "greatest `speed`; 2.5 times the corner speed, or the top speed, if not given")
	f.IntVar(&r.points, "points", 200, "`number` of speeds, and of torques at each, 2 to 2000")
	r.plot.flags(cmd, "limits, efficiency and currents", picture.Size{Width: 1800, Height: 1000})
	f.StringVar(&r.csv, "csv", "", "write the map to this `file`; - prints it")
	f.BoolVar(&r.json, "json", false, "print JSON, with the map")
	optional(cmd, "to")
	complete(cmd, "device", device.Names()...)
	return cmd
}

func (r *limits) do(c *cobra.Command, name string) error {
	if err := r.ask(c, name); err != nil {
		return err
	}
	heat := envelope.Heat(envelope.Ideal)
	if !r.ideal {
		d, err := device.Open(r.device)
		if err != nil {
			return err
		}
		r.of, heat = &d, envelope.HeatOf(&d, r.junction)
	}
	var err error
	if r.found, err = envelope.MapOf(&r.pair, envelope.Speeds(r.to, r.points), (r.points+1)/2, heat); err != nil {
		return flagError(err)
	}
	if r.plot.file != "" {
		if err := r.plot.paint(r.title, r.figure().Draw); err != nil {
			return err
		}
	}
	return answer{r.rows, func() any { return r.report() }, r.print}.write(c.OutOrStdout(), r.csv, r.json)
}

// ask reads the file and completes what was asked for, and refuses what does not go together.
func (r *limits) ask(c *cobra.Command, name string) error {
	given := c.Flags().Changed
	switch {
	case r.points < 2 || r.points > 2000:
		return usage("--points: %d is out of range; give 2 to 2000", r.points)
	case r.json && r.csv == "-":
		return usage("--csv: - and --json cannot both be printed; give --csv a file")
	case r.ideal && (given("device") || given("junction")):
		return usage("--ideal: leaves out the bridge's heat; give no --device and no --junction with it")
	case !(r.junction > -273.15 && r.junction <= 1000):
		return usage("--junction: %s is out of range; give up to 1000 C", si.Temperature.Text(r.junction))
	}
	if err := r.plot.check(c); err != nil {
		return err
	}
	if err := writable(r.csv); err != nil {
		return err
	}
	if err := r.open(c, name); err != nil {
		return err
	}
	if err := checkPair(c, &r.pair); err != nil {
		return err
	}
	r.marks = envelope.MarksOf(&r.pair)
	if r.marks.Corner == 0 {
		return usage("--supply: at %s the resistance alone takes the voltage of %s; give more, or less --current", si.Current.Text(r.pair.Current), si.Voltage.Text(r.pair.Supply))
	}
	switch {
	case !given("to"):
		r.to = r.marks.Span()
	case !(r.to > 0) || math.IsInf(r.to, 0) || r.to > 1e6:
		return usage("--to: %s is out of range; give a speed above 0, like 6000rpm", si.Speed.Text(r.to))
	case r.to >= r.marks.Top:
		return usage("--to: %s is beyond the top speed of %s, above which there is no torque", rpmText(r.to), rpmText(r.marks.Top))
	}
	return nil
}

// open reads the machine or scenario that name means.
func (r *limits) open(c *cobra.Command, name string) error {
	found, data, err := findMachineOrScenario(c, name)
	if err != nil {
		return err
	}
	r.title = name
	if d, wrong := file.Parse(found, data); wrong == nil && scenario.IsMachine(d) {
		title, m, err := scenario.LoadMachine(found, data)
		if title != "" {
			r.title = title
		}
		r.pair.Machine = m
		return err
	}
	s, err := scenario.Load(found, data)
	if err != nil {
		return err
	}
	if s.Title != "" {
		r.title = s.Title
	}
	given := c.Flags().Changed
	r.pair.Machine = s.Machine
	if !given("supply") {
		r.pair.Supply = s.Supply.Voltage
	}
	if !given("dead-time") {
		r.pair.DeadTime = s.Gating.DeadTime
	}
	if !given("pattern") && s.Gating.Kind.Compares() {
		r.pair.Pattern = s.Gating.Kind
	}
	if !given("carrier") && s.Gating.Carrier > 0 {
		r.pair.Carrier = s.Gating.Carrier
	}
	return nil
}

// findMachineOrScenario returns what FILE holds.
func findMachineOrScenario(c *cobra.Command, name string) (found string, data []byte, err error) {
	if !slices.Contains(scenario.Machines(), name) {
		return readScenario(c, name)
	}
	if found, data, err = scenario.FindMachine("", name); err != nil {
		err = file.Findings{{File: name, Err: err}}
	}
	return found, data, err
}

func rpmText(speed float64) string { return fmt.Sprintf("%.5g rpm", speed*30/math.Pi) }
