package duty_test

import (
	"fmt"

	"sextant/motor/duty"
)

// What a road asks of the machine: two seconds up 10 %, at 36 km/h.
func ExampleCycle_Demands() {
	c, err := duty.Load("climb.csv", []byte("time_s,road_speed_km_h,grade_percent\n0,36,10\n2,36,10\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	v, err := duty.OpenVehicle("hauler")
	if err != nil {
		fmt.Println(err)
		return
	}
	d := c.Demands(&v.Vehicle)[0]
	fmt.Printf("%.0f rad/s and %.1f N m for %.0f s\n", d.Speed, d.Torque, d.To-d.From)
	// Output:
	// 389 rad/s and 117.1 N m for 2 s
}
