package main

import (
	"io"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"sextant/inverter/file"
	"sextant/inverter/si"
	"sextant/motor"
	"sextant/motor/duty"
	"sextant/motor/scenario"
)

// ask reads the files and completes what was asked for, and refuses what does not go together.
func (r *cycle) ask(c *cobra.Command, name string) (err error) {
	if r.json && r.csv == "-" {
		return usage("--csv: - and --json cannot both be printed; give --csv a file")
	}
	if err := r.plot.check(c); err != nil {
		return err
	}
	if err := writable(r.csv); err != nil {
		return err
	}
	r.file, r.title = name, name
	if r.cycle, err = openCycle(c.InOrStdin(), name); err != nil {
		return err
	}
	r.read = len(r.cycle.Rows)
	r.cycle = r.cycle.Refined()
	if err := r.openVehicle(c); err != nil {
		return err
	}
	if err := r.openMachine(); err != nil {
		return err
	}
	if err := r.openDevices(); err != nil {
		return err
	}
	if err := checkPair(c, &r.pair); err != nil {
		return err
	}
	if err := r.checkBattery(c); err != nil {
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
		return duty.Cycle{}, file.Findings{{File: name, Err: err}}
	}
	return duty.Load(name, data)
}

// openVehicle reads the vehicle, over which the flags go. A built-in cycle has one of its own.
func (r *cycle) openVehicle(c *cobra.Command) (err error) {
	if r.vehicle == "" && r.cycle.Road {
		if !slices.Contains(duty.Cycles(), r.file) {
			return usage("--vehicle: is missing, and %s is of a road; give a file, or one of %s", r.file, strings.Join(duty.Vehicles(), ", "))
		}
		r.vehicle = "hauler"
	}
	if r.vehicle == "" {
		return nil
	}
	if r.setup, err = duty.OpenVehicle(r.vehicle); err != nil {
		return err
	}
	if r.setup.Title != "" {
		r.title = r.setup.Title + ": " + r.file
	}
	given := c.Flags().Changed
	d, b := &r.setup.Drive, &r.setup.Battery
	for _, x := range []struct {
		flag string
		to   *float64
		from float64
		said bool // in the file
	}{
		{"supply", &r.pair.Supply, d.Supply, d.Supply > 0},
		{"current", &r.pair.Current, d.Current, d.Current > 0},
		{"carrier", &r.pair.Carrier, d.Carrier, d.Carrier > 0},
		{"dead-time", &r.pair.DeadTime, d.DeadTime, true},
		{"drag", &r.pair.Drag, d.Drag, true},
		{"drag-slope", &r.pair.DragSlope, d.Slope, true},
		{"sink", &r.sink, d.Sink, true},
		{"battery", &r.battery.Capacity, b.Capacity, true},
		{"charge", &r.battery.Charge, b.Charge, b.Capacity > 0},
		{"charge-limit", &r.battery.ChargeLimit, b.ChargeLimit, true},
	} {
		if x.said && !given(x.flag) {
			*x.to = x.from
		}
	}
	if !given("pattern") {
		r.pair.Pattern = d.Pattern
	}
	return nil
}

// openMachine reads the machine that a flag, or else the vehicle, names.
func (r *cycle) openMachine() (err error) {
	name, from := r.machine, ""
	if name == "" {
		name, from = r.setup.Drive.Machine, r.setup.File
	}
	if name == "" {
		return usage("--machine: is missing; give a file, or one of %s", strings.Join(scenario.Machines(), ", "))
	}
	r.pair.Machine, err = openMachine(from, name)
	return err
}

// openMachine reads the machine that name means in file from, which may be a scenario with one.
func openMachine(from, name string) (motor.Machine, error) {
	found, data, err := scenario.FindMachine(from, name)
	if err != nil {
		return motor.Machine{}, file.Findings{{File: name, Err: err}}
	}
	if d, wrong := file.Parse(found, data); wrong == nil && d.Values["machine"] != nil && !scenario.IsMachine(d) {
		s, err := scenario.Load(found, data)
		return s.Machine, err
	}
	_, m, err := scenario.LoadMachine(found, data)
	return m, err
}

// openDevices reads the devices that flags, or else the vehicle, name.
func (r *cycle) openDevices() (err error) {
	names, from := r.names, ""
	if len(names) == 0 {
		names, from = r.setup.Drive.Devices, r.setup.File
	}
	if len(names) == 0 {
		names = []string{"igbt-750", "sic-750"}
	}
	r.devices, err = openDevices(from, names)
	return err
}

// checkBattery refuses values of the battery, and of the sink, that are out of range.
func (r *cycle) checkBattery(c *cobra.Command) error {
	b := &r.battery
	switch {
	case b.Charge < 0 || b.Charge > 1:
		return usage("--charge: %g is out of range; give 0 to 1", b.Charge)
	case b.Capacity < 0:
		return usage("--battery: %s is negative; give 0 or more", si.Energy.Text(b.Capacity))
	case b.ChargeLimit < 0:
		return usage("--charge-limit: %s is negative; give 0 or more", si.Power.Text(b.ChargeLimit))
	case b.Capacity == 0 && c.Flags().Changed("charge"):
		return usage("--charge: is a part of a capacity; give --battery, too")
	case r.sink < -100 || r.sink > 200:
		return usage("--sink: %s is out of range; give -100 C to 200 C", si.Temperature.Text(r.sink))
	}
	return nil
}
