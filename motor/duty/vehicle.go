package duty

import "math"

// gravity is the standard acceleration of free fall in m/s² (ISO 80000-3).
const gravity = 9.80665

// A Vehicle is what lies between the road and the machine.
type Vehicle struct {
	Mass         float64 // kg
	RotatingMass float64 // what wheels and rotor add to it when it speeds up, kg
	Rolling      float64 // coefficient of rolling resistance
	DragArea     float64 // drag coefficient times frontal area, m²
	AirDensity   float64 // kg/m³
	WheelRadius  float64 // m
	Gear         float64 // turns of the machine in one of the wheel
	Efficiency   float64 // of the gear, either way
}

// Force returns the force in N that moves v at a speed (m/s) with an acceleration (m/s²) up a grade:
//
//	F = m g (sin α + c cos α) + ½ ρ c_w A v² + (m + m_r) a, tan α the grade
//
// rolling resistance and drag being against the motion. Common practice of vehicle dynamics.
func (v *Vehicle) Force(speed, acceleration, grade float64) float64 {
	cos := 1 / math.Hypot(1, grade)
	direction := 0.0
	if speed != 0 {
		direction = math.Copysign(1, speed)
	}
	return v.Mass*gravity*cos*(grade+direction*v.Rolling) +
		v.AirDensity*v.DragArea*speed*math.Abs(speed)/2 +
		(v.Mass+v.RotatingMass)*acceleration
}

// machine returns the speed (rad/s) and the torque (N m) of the machine. A vehicle that stands is held by its
// brake.
func (v *Vehicle) machine(speed, acceleration, grade float64) (omega, torque float64) {
	if speed == 0 && acceleration == 0 {
		return 0, 0
	}
	force := v.Force(speed, acceleration, grade)
	omega = speed / v.WheelRadius * v.Gear
	torque = force * v.WheelRadius / v.Gear
	if force*speed < 0 {
		return omega, torque * v.Efficiency
	}
	return omega, torque / v.Efficiency
}
