package procedures

import (
	"slices"

	"bay.example/pawl/job/phrase"
)

// maxPass is more passes than any fastener is tightened in.
const maxPass = 9

// passNo checks that the passes of a torque are counted from 1; 0 is a torque of one pass.
func (c *checker) passNo(at func(string, ...any), k *Check) {
	if k.PassNo < 0 || k.PassNo > maxPass {
		at("%s", phrase.Of("procedures.checkpasses.pass-no-is-out-of-range", k.PassNo, maxPass))
	}
}

// passes checks that every later pass of a group comes behind the one before it, on the same stage or
// on one before. A torque of one pass is the first.
func (c *checker) passes() {
	for i, n := range c.g.nodes {
		for k, ck := range n.stage.Checks {
			if ck.Kind != Torque || ck.PassNo < 2 {
				continue
			}
			before := func(x Check) bool {
				return x.Kind == Torque && x.Group == ck.Group && max(x.PassNo, 1) == ck.PassNo-1
			}
			found := slices.ContainsFunc(n.stage.Checks[:k], before)
			for t, m := range c.g.nodes {
				found = found || c.g.ancestors[i].has(t) && sameSide(n.ref.Side, m.ref.Side) && slices.ContainsFunc(m.stage.Checks, before)
			}
			if !found {
				c.stage(n.stage, "%s", phrase.Of("procedures.checkpasses.is-a-pass-without-the-one-before", ck.ID, ck.PassNo, ck.Group, ck.PassNo-1))
			}
		}
	}
}
