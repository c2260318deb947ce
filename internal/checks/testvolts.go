package checks

import (
	"fmt"

	"example.com/powerup/internal/sheet"
	"example.com/powerup/internal/unit"
)

// testerWithin refuses a test at volts of a part that stands less than the
// tester's lowest setting (INV-34). A rating nobody knows, zero, refuses nothing
// here: the method tells which setting to use.
func (c Case) testerWithin(rating unit.Volt) error {
	least := c.leastTestVolts()
	if rating > 0 && least > 0 && rating < least {
		return fmt.Errorf("INV-34: the part stands %v, and the tester's lowest setting is %v\nhint: fit a part of the right rating before it is tested at volts", rating, least)
	}
	return nil
}

// leastTestVolts is the tester's lowest setting, 0 when its sheet names none.
func (c Case) leastTestVolts() unit.Volt {
	var least unit.Volt
	if c.Meter == nil {
		return 0
	}
	for _, span := range c.Meter.Functions {
		if span.Function == sheet.Insulation && span.Test != nil && (least == 0 || *span.Test < least) {
			least = *span.Test
		}
	}
	return least
}

// couplingRating is what the coupling capacitor stands by its stamp or the
// sheet, the lower of the two; 0 when neither says.
func (c Case) couplingRating() unit.Volt {
	var rating unit.Volt
	if k := c.Set.Output.Coupling; k != nil && k.Rating != nil {
		rating = *k.Rating
	}
	if x, ok := c.taken("stamped-volts", "coupling"); ok && (rating == 0 || unit.Volt(x) < rating) {
		rating = unit.Volt(x)
	}
	return rating
}
