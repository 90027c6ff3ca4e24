package device

import (
	"fmt"

	"sextant/inverter/file"
	"sextant/inverter/si"
)

// positive returns a reader of a quantity above zero.
func positive(at *float64, of si.Dimension) func(any) error {
	return func(value any) error {
		x, err := file.Quantity(value, of)
		switch {
		case err != nil:
		case x <= 0:
			err = fmt.Errorf("%s is not positive; give more than 0", of.Text(x))
		case x < smallest || x > largest:
			err = fmt.Errorf("%s is beyond belief; give %s", of.Text(x), of.Advice())
		}
		if err == nil {
			*at = x
		}
		return err
	}
}

// smallest and largest bound all numbers, in their SI units, so that no power of one overflows.
const smallest, largest = 1e-12, 1e9

// numbers returns a reader of a list of quantities, none of which is below least; a list of n where n is
// above 0.
func numbers(at *[]float64, of si.Dimension, least float64, n int) func(any) error {
	return func(value any) error {
		list, ok := value.([]any)
		switch {
		case !ok:
			return fmt.Errorf("%s is not a list; give one in brackets, of %s", file.Called(value), of.Advice())
		case n > 0 && len(list) != n:
			return fmt.Errorf("%s; give %d", file.Called(value), n)
		case len(list) == 0:
			return fmt.Errorf("an empty list; give %s", of.Advice())
		}
		xs := make([]float64, len(list))
		for i, v := range list {
			x, err := file.Quantity(v, of)
			switch {
			case err != nil:
				return err
			case x < least && least == 0:
				return fmt.Errorf("%s is negative; give 0 or more", of.Text(x))
			case x < least:
				return fmt.Errorf("%s is below %s", of.Text(x), of.Text(least))
			case x > largest:
				return fmt.Errorf("%s is beyond belief; give %s", of.Text(x), of.Advice())
			}
			xs[i] = x
		}
		*at = xs
		return nil
	}
}

// ascending reads a list of temperatures that rise.
func ascending(at *[]float64) func(any) error {
	return func(value any) error {
		if err := numbers(at, si.Temperature, coldest, 0)(value); err != nil {
			return err
		}
		for i, t := range (*at)[1:] {
			if before := (*at)[i]; t <= before {
				*at = nil
				return fmt.Errorf("out of order, %s after %s; give temperatures that rise", si.Temperature.Text(t), si.Temperature.Text(before))
			}
		}
		return nil
	}
}

// coldest is absolute zero in °C.
const coldest = -273.15

// exponents returns a reader of the exponents of turn-on, turn-off and recovery.
func exponents(at *[3]float64) func(any) error {
	return func(value any) error {
		var xs []float64
		if err := numbers(&xs, si.Number, 0, 3)(value); err != nil {
			return fmt.Errorf("%w: exponents for turn-on, turn-off and recovery, like [1.0, 1.0, 0.6]", err)
		}
		for _, x := range xs {
			if x == 0 || x > steepest {
				return fmt.Errorf("an exponent of %g is out of range; give more than 0 and up to %g", x, steepest)
			}
		}
		copy(at[:], xs)
		return nil
	}
}

// steepest is the largest exponent that energies are believed to rise with; common practice is 0.5 to 2.
const steepest = 4.0
