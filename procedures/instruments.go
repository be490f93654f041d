package procedures

// The kinds of instrument, in trade words. Wrenches give a torque, the others a measurement. They
// stand here and not with the register, because a check names them and the checker has to know them.
const (
	SettingWrench    = "setting wrench"    // clicks at the value set
	DialWrench       = "dial wrench"       // read by eye
	ElectronicWrench = "electronic wrench" // keeps the peak
	AngleGauge       = "angle gauge"
	Micrometer       = "micrometer"
	SlidingCaliper   = "sliding caliper"
	DepthGauge       = "depth gauge"
	DialGauge        = "dial gauge"
	PadGauge         = "pad gauge"
	FluidTester      = "fluid tester"
	RollerTester     = "roller tester"
	Thermometer      = "thermometer"
	Tape             = "tape"
)

// Instruments lists every kind of instrument in the order the register shows them.
func Instruments() []string {
	return []string{SettingWrench, DialWrench, ElectronicWrench, AngleGauge, Micrometer, SlidingCaliper, DepthGauge,
		DialGauge, PadGauge, FluidTester, RollerTester, Thermometer, Tape}
}
