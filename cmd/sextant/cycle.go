package main

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"sextant/inverter/device"
	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/drive"
	"sextant/motor/duty"
	"sextant/motor/pair"
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
	setup    duty.Setup
	devices  []namedDevice
	work     duty.Work
	accounts []duty.Account
}

func cycleCommand() *cobra.Command {
	r := cycle{pair: pair.Pair{Carrier: 10e3}}
	d := duty.Default()
	r.pair.DeadTime, r.sink = d.DeadTime, d.Sink
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
in straight lines, and each interval is worked at its middle.

A vehicle's file also has the battery and the drive; flags go over it. The
machine gets the least current that makes the torque: most torque per ampere,
and beyond that field weakening. What the battery does not take is burnt in a
resistor at the link. Temperatures are means over a turn, from the sink's; near
standstill one position gets hotter (see "sextant losses --frequency 0Hz").
Iron and friction of the machine take what --drag and --drag-slope say.`,
		Example: `  sextant cycle hillside
  sextant cycle hillside --carrier 20kHz --plot hill.png --energy-price 0.30
  sextant cycle test.csv --machine hauler --supply 350V --current 300A`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) != 1 {
				return errors.New("cycle reads one duty cycle: give a CSV file, or a name that \"sextant list cycles\" shows")
			}
			return nil
		},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) > 0 {
				return nil, cobra.ShellCompDirectiveNoFileComp
			}
			return duty.Cycles(), cobra.ShellCompDirectiveDefault
		},
		RunE: func(c *cobra.Command, args []string) error { return r.do(c, args[0]) },
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
	f.StringVar(&r.csv, "csv", "", "write a row for each interval to this `file`; - prints them")
	f.BoolVar(&r.json, "json", false, "print JSON")
	optional(cmd, "battery", "charge", "charge-limit")
	complete(cmd, "device", device.Names()...)
	complete(cmd, "vehicle", duty.Vehicles()...)
	complete(cmd, "machine", drive.Machines()...)
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
	out := c.OutOrStdout()
	switch r.csv {
	case "":
	case "-":
		return r.rows(out)
	default:
		if err := writeAside(r.csv, r.rows); err != nil {
			return err
		}
	}
	if r.json {
		return printJSON(out, r.report())
	}
	return r.print(out)
}

// ask reads the files and completes what was asked for, and refuses what does not go together.
func (r *cycle) ask(c *cobra.Command, name string) (err error) {
	if r.json && r.csv == "-" {
		return usage("--csv: - and --json cannot both be printed; give --csv a file")
	}
	if err := r.plot.check(c); err != nil {
		return err
	}
	r.file, r.title = name, name
	if r.cycle, err = openCycle(c.InOrStdin(), name); err != nil {
		return err
	}
	if err := r.openVehicle(c); err != nil {
		return err
	}
	if r.battery.Charge < 0 || r.battery.Charge > 1 {
		return usage("--charge: %g is out of range; give 0 to 1", r.battery.Charge)
	}
	if r.battery.Capacity < 0 || r.battery.ChargeLimit < 0 {
		return usage("--battery: energies and powers of a battery are not negative")
	}
	if r.battery.Capacity == 0 && c.Flags().Changed("charge") {
		return usage("--charge: is a part of a capacity; give --battery, too")
	}
	if err := checkPair(c, &r.pair); err != nil {
		return err
	}
	return r.prices.ask(r.devices)
}

// openCycle reads the cycle that name means.
func openCycle(stdin io.Reader, name string) (duty.Cycle, error) {
	if name != "-" {
		return duty.Open(name)
	}
	data, err := duty.ReadAll(stdin)
	if err != nil {
		return duty.Cycle{}, drive.Findings{{File: name, Err: err}}
	}
	return duty.Load(name, data)
}

// openVehicle reads the vehicle, and what it or the flags name.
func (r *cycle) openVehicle(c *cobra.Command) (err error) {
	given := c.Flags().Changed
	if r.vehicle == "" && r.cycle.Road {
		if !slices.Contains(duty.Cycles(), r.file) {
			return usage("--vehicle: is missing, and %s is of a road; give a file, or one of %v", r.file, duty.Vehicles())
		}
		r.vehicle = "hauler"
	}
	d := &r.setup.Drive
	if r.vehicle != "" {
		if r.setup, err = duty.OpenVehicle(r.vehicle); err != nil {
			return err
		}
		if r.setup.Title != "" {
			r.title = r.setup.Title + ": " + r.file
		}
		for _, x := range []struct {
			flag     string
			to, from *float64
		}{
			{"supply", &r.pair.Supply, &d.Supply}, {"current", &r.pair.Current, &d.Current},
			{"carrier", &r.pair.Carrier, &d.Carrier}, {"dead-time", &r.pair.DeadTime, &d.DeadTime},
			{"drag", &r.pair.Drag, &d.Drag}, {"drag-slope", &r.pair.DragSlope, &d.Slope}, {"sink", &r.sink, &d.Sink}, {"battery", &r.battery.Capacity, &r.setup.Battery.Capacity},
			{"charge", &r.battery.Charge, &r.setup.Battery.Charge},
			{"charge-limit", &r.battery.ChargeLimit, &r.setup.Battery.ChargeLimit},
		} {
			if !given(x.flag) && (*x.from != 0 || x.flag == "dead-time" || x.flag == "sink") {
				*x.to = *x.from
			}
		}
		if !given("pattern") {
			r.pair.Pattern = d.Pattern
		}
	}
	machine, from := r.machine, ""
	if machine == "" {
		machine, from = d.Machine, r.setup.File
	}
	if machine == "" {
		return usage("--machine: is missing; give a file, or one of %v", drive.Machines())
	}
	if _, r.pair.Machine, err = openMachine(from, machine); err != nil {
		return err
	}
	names, from := r.names, ""
	if len(names) == 0 {
		names, from = d.Devices, r.setup.File
	}
	if len(names) == 0 {
		names = []string{"igbt-750", "sic-750"}
	}
	r.devices, err = openDevices(from, names)
	return err
}

// openMachine reads the machine that name means in file from.
func openMachine(from, name string) (title string, m motor.Machine, err error) {
	found, data, err := drive.FindMachine(from, name)
	if err != nil {
		return "", m, drive.Findings{{File: name, Err: err}}
	}
	return drive.LoadMachine(found, data)
}

// described says what was worked, in lines for people.
func (r *cycle) described() []string {
	first := fmt.Sprintf("%d rows, %s", len(r.cycle.Rows), minutes(r.cycle.Duration()))
	if r.cycle.Road {
		first += fmt.Sprintf(", %.4g km", r.distance()/1000)
	}
	first += fmt.Sprintf("; %v at %s", r.pair.Pattern, si.Frequency.Text(r.pair.Carrier))
	second := fmt.Sprintf("supply %s, %s peak at most, dead time %s, sink %s", si.Voltage.Text(r.pair.Supply), si.Current.Text(r.pair.Current), si.Time.Text(r.pair.DeadTime), si.Temperature.Text(r.sink))
	third := ""
	if r.battery.Capacity > 0 {
		third = fmt.Sprintf("battery %s, %s full at the start", wattHours(r.battery.Capacity), fixed(100*r.battery.Charge, 1)+" %")
	}
	if third == "" {
		return []string{first, second}
	}
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
