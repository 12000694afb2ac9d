package joint

import (
	"errors"
	"fmt"
	"math"

	"evenload/joint/unit"
)

// TargetKind is the form in which the job gives its target.
type TargetKind string

// The forms of a target.
const (
	ByBoltStress TargetKind = "bolt_stress"
	ByYieldShare TargetKind = "yield_share"
	ByBoltLoad   TargetKind = "bolt_load"
	ByTorque     TargetKind = "torque"
)

// AreaKind is the area that a bolt stress is taken on.
type AreaKind string

// The areas of a thread.
const (
	Tensile AreaKind = "tensile"
	Root    AreaKind = "root"
)

// Target is what every bolt is to be brought to, in the form the job gives.
type Target struct {
	Kind   TargetKind
	Stress unit.Stress
	Area   AreaKind   // beside a bolt stress; silent: tensile
	Share  unit.Share // of yield, on the tensile stress area
	Load   unit.Force
	Torque unit.Torque
}

// Aim is a target turned into all its forms.
type Aim struct {
	Load          unit.Force  `json:"load_N"`
	Torque        unit.Torque `json:"torque_Nm"`
	TensileStress unit.Stress `json:"tensile_stress_Pa"`
	RootStress    unit.Stress `json:"root_stress_Pa"`
	YieldShare    unit.Share  `json:"yield_share"` // 0: yield not given
	NutFactor     float64     `json:"nut_factor"`
}

// Aim turns the joint's target into bolt load, torque, stresses and share of
// yield. It fails when the friction is not known, when the target is a share
// of yield and no yield is given, or when nothing positive comes out.
func (j Joint) Aim() (Aim, error) {
	if err := j.Friction.check(); err != nil {
		return Aim{}, err
	}
	var load unit.Force
	switch t := j.Target; t.Kind {
	case ByBoltStress:
		switch t.Area {
		case Tensile, "":
			load = unit.Force(float64(t.Stress) * float64(j.Thread.TensileArea()))
		case Root:
			load = unit.Force(float64(t.Stress) * float64(j.Thread.RootArea()))
		default:
			return Aim{}, fmt.Errorf("unknown area %q beside the bolt stress: write %q or %q", t.Area, Tensile, Root)
		}
	case ByYieldShare:
		if j.Yield <= 0 {
			return Aim{}, errors.New("the target is a share of yield and the yield is not known: give bolts.yield")
		}
		load = unit.Force(float64(t.Share) * float64(j.Yield) * float64(j.Thread.TensileArea()))
	case ByBoltLoad:
		load = t.Load
	case ByTorque:
		load = j.Friction.Load(j.Thread, t.Torque)
	default:
		return Aim{}, fmt.Errorf("unknown kind of target %q: give one of bolt_stress, yield_share, bolt_load, torque", t.Kind)
	}
	if !(load > 0) || math.IsInf(float64(load), 0) {
		return Aim{}, errors.New("the target gives no bolt load: look at target, thread and friction")
	}
	a := Aim{
		Load:          load,
		Torque:        j.Friction.Torque(j.Thread, load),
		TensileStress: unit.Stress(float64(load) / float64(j.Thread.TensileArea())),
		RootStress:    unit.Stress(float64(load) / float64(j.Thread.RootArea())),
		NutFactor:     j.Friction.EquivalentNutFactor(j.Thread),
	}
	if j.Yield > 0 {
		a.YieldShare = unit.Share(a.TensileStress / j.Yield)
	}
	return a, nil
}
