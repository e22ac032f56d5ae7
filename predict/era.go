package predict

import (
	"fmt"
	"math"
	"slices"

	"slipcase/weather"
)

// era is one state of the vehicle: a setup, or the same setup at another weight.
type era struct {
	machine Machine
	raced   bool // it has runs
	stopped bool // with a throttle stop: it runs as another car
	car     vehicle
	// The slopes of the logs by power, by grip and by a foot of density altitude,
	// and the effect of the launch and of power on the logs, each such that the
	// time at the finish changes by one.
	power, grip, thin vec
	launch, engine    vec
	air               vec       // the logs' slope by the log of what the air does to power
	wind              vec       // and by a mph of headwind at the car
	change            eraChange // against the era before
}

// eraChange is how much one era differs from another: what is stated, in logs, and
// whether it is told at all.
type eraChange struct {
	from          int // the era before
	power, weight float64
	restatedSD    float64 // of power that was measured in air that is not known
	untold        bool    // another setup whose power is not known
	forPower      bool    // and nothing else of it differs either
	sameSetup     bool
	stop          bool      // a throttle stop is used in one and not in the other
	open          bool      // let the runs alone tell
	kind          unentered // of what nobody entered
	step          float64   // by how much slower, as the days stand
	shift         vec       // what that, or a change for power, is believed to add to the logs
}

// unraced are the eras of a vehicle without runs: its first setup, and the next run's as a
// change of that one.
func unraced(next *Pass) []*era {
	list := []*era{{machine: next.Machine, stopped: next.stopped()}}
	if first := next.First; first != (Machine{}) && !first.sameEra(next.Machine) {
		list = append([]*era{{machine: first, stopped: next.stopped()}}, list...)
	}
	return list
}

func (m Machine) sameEra(o Machine) bool {
	return m.Setup == o.Setup && m.WeightLb == o.WeightLb && m.PowerHP == o.PowerHP &&
		m.PowerAt == o.PowerAt && m.Standard == o.Standard && m.PowerDay == o.PowerDay
}

// eras finds the states of the vehicle in the order of their first run, the next
// run's included, and the era of each pass.
func eras(passes []Pass) (list []*era, of []int) {
	of = make([]int, len(passes))
next:
	for i := range passes {
		m := passes[i].Machine
		for e := len(list) - 1; e >= 0; e-- {
			if list[e].machine.sameEra(m) && list[e].stopped == passes[i].stopped() {
				of[i] = e
				continue next
			}
		}
		of[i] = len(list)
		list = append(list, &era{machine: m, stopped: passes[i].stopped()})
	}
	return list, of
}

// suppose gives every era its run model: the first as believed, the others as
// the stated changes of weight and power make it.
func suppose(list []*era) (prior2, error) {
	first, doubt := believe(list[reference(list)].machine)
	refHP, refKnown := list[reference(list)].machine.clutchHP()
	hp := refHP
	for i, e := range list {
		own, known := e.machine.clutchHP()
		if known && refKnown {
			hp = own
		}
		m := first.model
		m.PowerHP *= hp / refHP
		if lb, known := e.machine.knownWeightLb(); known {
			m.WeightLb = lb
		}
		e.car = vehicle{
			model: m, weightLb: m.WeightLb, breathing: e.machine.Breathing(), launch: first.launch, stop: usualStop(),
		}
		if i > 0 {
			from := comesFrom(list, i)
			before := list[from]
			e.change = eraChange{
				from:      from,
				stop:      e.stopped != before.stopped,
				power:     math.Log(m.PowerHP / before.car.model.PowerHP),
				weight:    math.Log(m.WeightLb / before.car.model.WeightLb),
				sameSetup: e.machine.Setup == before.machine.Setup,
				untold:    !known && e.machine.Setup != before.machine.Setup,
			}
			e.change.forPower = e.change.untold && e.machine.WeightLb == before.machine.WeightLb &&
				e.machine.Drivetrain == before.machine.Drivetrain
			if e.machine.PowerHP != before.machine.PowerHP {
				e.change.restatedSD = comparedSD(before.machine.restated(), e.machine.restated())
			}
		}
	}
	return doubt, nil
}

// comesFrom is the era that another is a change of: the one before it, of those with a
// throttle stop or without as it is itself; else the same setup with or without.
func comesFrom(list []*era, at int) int {
	for i := at - 1; i >= 0; i-- {
		if list[i].stopped == list[at].stopped {
			return i
		}
	}
	for i := at - 1; i >= 0; i-- {
		if list[i].machine.sameEra(list[at].machine) {
			return i
		}
	}
	return at - 1
}

// reference is the latest of the eras raced whose power is known, so that a setup without
// runs moves nothing of what is believed; else the first whose power is known, else the last.
func reference(list []*era) int {
	known := func(e *era) bool { _, known := e.machine.clutchHP(); return known }
	for i, e := range slices.Backward(list) {
		if e.raced && known(e) {
			return i
		}
	}
	if i := slices.IndexFunc(list, known); i >= 0 {
		return i
	}
	return len(list) - 1
}

// follow tells every era what may limit its launch and how much of it the engine holds, and
// makes all but the leading era of that one by their stated changes, as a change that is
// asked about is made.
func follow(list []*era, lead int, launch Limits, engines float64) {
	from := list[lead].car
	from.launch, from.engines = launch, engines
	for _, e := range list {
		to := from.changed(e.car.model.PowerHP/from.model.PowerHP-1, e.car.weightLb-from.weightLb, 0, 0)
		e.car.model, e.car.launch, e.car.engines, e.car.raised = to.model, launch, engines, to.raised
	}
}

// scale moves the power and grip of every era alike.
func scale(list []*era, power, grip float64) {
	for _, e := range list {
		e.car.model.PowerHP *= power
		e.car.model.GripG *= grip
	}
}

// differentiate works out the derivatives of every era in ordinary air; finish is the
// distance that the vehicle races to.
func differentiate(list []*era, air weather.Air, finish Mark) error {
	for i, e := range list {
		var err error
		if e.power, e.grip, err = e.car.slopes(air); err != nil {
			return fmt.Errorf("the run model of setup %q: %w", e.machine.Setup, err)
		}
		e.thin = e.car.thin(air)
		if e.wind, err = e.car.windSlope(air); err != nil {
			return err
		}
		e.air = e.power
		for c, g := range e.grip {
			e.air[c] += e.car.shares().power * g
		}
		if e.change.forPower {
			e.change.shift = e.power.scaled(untoldGain)
		}
		c := timeAt[finish]
		e.engine = e.power.scaled(1 / math.Min(e.power[c], -0.01))
		e.launch = e.grip.scaled(1 / math.Min(e.grip[c], -0.01))
		if i > 0 && !e.raced {
			// What the runs tell of luck, and of air and wind beyond the textbook, they tell
			// of the vehicle that they were made with.
			b := list[e.change.from]
			e.air, e.wind, e.engine, e.launch, e.power, e.grip = b.air, b.wind, b.engine, b.launch, b.power, b.grip
		}
	}
	return nil
}
