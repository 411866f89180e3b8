package vehicle

// What the gain of a car over another is counted to, in an analyst's words. Each is declared
// at the quantities in which two cars then differ: as near to the energy over a schedule as
// may be, so that a cause is one whatever way a study states it.
const (
	byMass        = "mass"
	byEnergy      = "usable energy"
	byDrag        = "air drag"
	byRolling     = "rolling resistance"
	byDrive       = "drive losses"
	byRecovery    = "recuperation"
	byBattery     = "battery's resistance"
	byAuxiliaries = "auxiliaries"
	byRecharging  = "recharging"
	byLabel       = "label factor"
	byError       = "model's error of its own"
)
