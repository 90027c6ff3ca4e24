package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"sextant/inverter/device"
	"sextant/inverter/si"
	"sextant/motor/duty"
	"sextant/motor/pair"
	"sextant/motor/scenario"
	"sextant/render/picture"
)

// cycle is what the command of that name was asked for.
type cycle struct {
	vehicle string
	machine string
	names   []string // of devices
	pair    pair.Pair
	sink    float64 // °C
	battery duty.Battery
	prices  prices
	json    bool
	csv     string
	plot    plotting

	file     string
	title    string
	cycle    duty.Cycle
	read     int // rows of its file
	setup    duty.Setup
	devices  []namedDevice
	work     duty.Work
	accounts []duty.Account
}

func cycleCommand() *cobra.Command {
	r := cycle{pair: pair.Pair{Carrier: 10e3}}
	d := duty.Default()
	r.pair.DeadTime, r.sink, r.battery.Charge = d.DeadTime, d.Sink, 0.5
	cmd := &cobra.Command{
		Use:   "cycle FILE",
		Short: "Compare devices over a duty cycle, with pay-back",
		Long: `Take a machine and its bridge through a duty cycle and work out the energy that
it costs with one device or another, how warm the junctions get, and when the
dearer device has paid for itself.

FILE is a CSV file, the name of a built-in cycle, or - for standard input. Its
first line names the columns: time_s with speed_rpm (or speed_rad_s) and
torque_nm; or with road_speed_km_h (or road_speed_m_s) and grade_percent, and
then --vehicle says what lies between road and machine. Between rows all goes
in straight lines; rows far apart are worked in pieces, each at its middle.

A vehicle's file also has the battery and the drive; flags go over it. The
machine gets the least current that makes the torque: most torque per ampere,
and beyond that field weakening. What the battery does not take is burnt in a
resistor at the link. Temperatures are means over a turn, from the sink's; near
standstill one position gets hotter (see "sextant losses --frequency 0Hz").
Iron and friction of the machine take what --drag and --drag-slope say.`,
		Example: `  sextant cycle hillside
  sextant cycle hillside --carrier 20kHz --plot hill.png --energy-price 0.30
  sextant cycle test.csv --machine hauler --supply 350V --current 300A`,
		Args:              exactlyOne("cycle reads one duty cycle: give a CSV file, or a name that \"sextant list cycles\" shows"),
		ValidArgsFunction: completeFirst(duty.Cycles),
		RunE:              func(c *cobra.Command, args []string) error { return r.do(c, args[0]) },
	}
	f := cmd.Flags()
	f.StringVar(&r.vehicle, "vehicle", "", "`vehicle`, built-in or file")
	f.StringVar(&r.machine, "machine", "", "`machine`, built-in or file")
	f.StringArrayVar(&r.names, "device", nil, "`device`, built-in or file; give several to compare them with the first")
	flagsOfPair(cmd, &r.pair)
	f.Var(si.Temperature.Into(&r.sink), "sink", "`temperature` of the heat sink")
	f.Var(si.Energy.Into(&r.battery.Capacity), "battery", "`capacity` of the battery; without one it takes and gives all")
	f.Var(si.Number.Into(&r.battery.Charge), "charge", "`part` of the capacity that it holds at the start")
	f.Var(si.Power.Into(&r.battery.ChargeLimit), "charge-limit", "greatest `power` that it takes in")
	r.prices.flags(cmd)
	r.plot.flags(cmd, "the cycle", picture.Size{Width: 1800, Height: 1200})
	f.StringVar(&r.csv, "csv", "", "write a row for each piece to this `file`; - prints them")
	f.BoolVar(&r.json, "json", false, "print JSON")
	optional(cmd, "battery", "charge-limit")
	complete(cmd, "device", device.Names()...)
	complete(cmd, "vehicle", duty.Vehicles()...)
	complete(cmd, "machine", scenario.Machines()...)
	return cmd
}

func (r *cycle) do(c *cobra.Command, name string) error {
	if err := r.ask(c, name); err != nil {
		return err
	}
	devices := make([]device.Device, len(r.devices))
	for i := range r.devices {
		devices[i] = r.devices[i].device
	}
	r.work = duty.WorkOf(&r.pair, r.cycle.Demands(&r.setup.Vehicle))
	var err error
	if r.accounts, err = duty.AccountsOf(&r.work, devices, r.sink, r.battery); err != nil {
		return flagError(err)
	}
	if r.plot.file != "" {
		if err := r.plot.paint(r.title, r.figure().Draw); err != nil {
			return err
		}
	}
	return answer{r.rows, func() any { return r.report() }, r.print}.write(c.OutOrStdout(), r.csv, r.json)
}

// described says what was worked, in lines for people.
func (r *cycle) described() []string {
	first := fmt.Sprintf("%d rows, %s", r.read, minutes(r.cycle.Duration()))
	if r.cycle.Road {
		first += fmt.Sprintf(", %.4g km", r.distance()/1000)
	}
	first += fmt.Sprintf("; %v at %s", r.pair.Pattern, si.Frequency.Text(r.pair.Carrier))
	second := fmt.Sprintf("supply %s, %s peak at most, dead time %s, sink %s", si.Voltage.Text(r.pair.Supply), si.Current.Text(r.pair.Current), si.Time.Text(r.pair.DeadTime), si.Temperature.Text(r.sink))
	if r.battery.Capacity == 0 {
		return []string{first, second}
	}
	third := fmt.Sprintf("battery %s, %s %% full at the start", wattHours(r.battery.Capacity), fixed(100*r.battery.Charge, 1))
	return []string{first, second, third}
}

// distance returns the way in m.
func (r *cycle) distance() float64 {
	way := 0.0
	for i, b := range r.cycle.Rows[1:] {
		a := r.cycle.Rows[i]
		way += max(a.Speed+b.Speed, -a.Speed-b.Speed) / 2 * (b.Time - a.Time)
	}
	return way
}

func minutes(s float64) string {
	if s < 100 {
		return fmt.Sprintf("%.4g s", s)
	}
	return fmt.Sprintf("%d min %02d s", int(s+0.5)/60, int(s+0.5)%60)
}
