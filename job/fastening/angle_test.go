package fastening

import (
	"testing"

	"bay.example/pawl/job/quantity"
)

// Source for all cases: trade.md 4.3, worked example, workshop paper, invented
// demo values (hub bolt M14x1.5).
func TestAngle(t *testing.T) {
	single := AngleSpec{Snug: window(t, "47..53 N·m"), Angle: window(t, "55..65°"), End: window(t, "90..190 N·m")}
	double := AngleSpec{Snug: window(t, "47..53 N·m"), Angle: window(t, "170..190°")}
	for _, tc := range []struct {
		name   string
		spec   AngleSpec
		snug   string
		angles []string
		end    string
		want   AngleJudgement
	}{
		{"good", single, "50 N·m", []string{"60°"}, "140 N·m", AngleJudgement{Snug: quantity.Inside, Angle: quantity.Inside, Turned: q("60°"), End: quantity.Inside}},
		{"no end torque", single, "50 N·m", []string{"60°"}, "", AngleJudgement{Snug: quantity.Inside, Angle: quantity.Inside, Turned: q("60°")}},
		{"limits", single, "47 N·m", []string{"65°"}, "190 N·m", AngleJudgement{Snug: quantity.Inside, Angle: quantity.Inside, Turned: q("65°"), End: quantity.Inside}},
		{"snug low, angle high", single, "46.9 N·m", []string{"65.1°"}, "", AngleJudgement{Snug: quantity.Outside, Angle: quantity.Outside, Turned: q("65.1°")}},
		{"two steps", double, "50 N·m", []string{"90°", "90°"}, "", AngleJudgement{Snug: quantity.Inside, Angle: quantity.Inside, Turned: q("180°")}},
		{"one step of two", double, "50 N·m", []string{"90°"}, "", AngleJudgement{Snug: quantity.Inside, Angle: quantity.Outside, Turned: q("90°")}},
		{"pulled thread", single, "50 N·m", []string{"60°"}, "60 N·m", AngleJudgement{Snug: quantity.Inside, Angle: quantity.Inside, Turned: q("60°"), End: quantity.Outside,
			Remark: "Angle reached but torque hardly rose (60 N·m, expected 90..190 N·m): thread pulled or bolt yielding; replace it and call the foreman."}},
		{"seized thread", single, "50 N·m", []string{"60°"}, "240 N·m", AngleJudgement{Snug: quantity.Inside, Angle: quantity.Inside, Turned: q("60°"), End: quantity.Outside,
			Remark: "Angle reached but torque rose too far (240 N·m, expected 90..190 N·m): seized thread or cross-thread; call the foreman."}},
		{"swapped", single, "60 N·m", []string{"50°"}, "", AngleJudgement{Snug: quantity.Outside, Angle: quantity.Outside, Turned: q("50°"), Swapped: true,
			Remark: "60 N·m and 50° are both outside; torque and angle swapped?"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			r := AngleReading{Snug: q(tc.snug), End: q(tc.end)}
			for _, a := range tc.angles {
				r.Angles = append(r.Angles, q(a))
			}
			got, err := tc.spec.Judge(r)
			if err != nil {
				t.Fatal(err)
			}
			diff(t, tc.want, got)
		})
	}
	for _, tc := range []struct{ snug, angle, want string }{
		{"50 N·m", "0°", "the angle is 0°, expected more than zero"},
		{"50 N·m", "360°", "the angle 360° is a full turn or more, expected 55..65°"},
		{"50 N·m", "600°", "the angle 600° is a full turn or more, expected 55..65°; 60°?"},
		{"50 N·m", "-60°", "no minus sign"},
		{"50 N·m", "60 N·m", "the angle"},
		{"50 N·m", "", "the angle is missing"},
		{"", "60°", "the snug torque is missing"},
		{"50 mm", "60°", "the snug torque"},
	} {
		_, err := single.Judge(AngleReading{Snug: q(tc.snug), Angles: []quantity.Quantity{q(tc.angle)}})
		refused(t, err, tc.want)
	}
	_, err := single.Judge(AngleReading{Snug: q("50 N·m")})
	refused(t, err, "the angle is missing, expected 55..65°")
	_, err = AngleSpec{Angle: window(t, "55..65°")}.Judge(AngleReading{Snug: q("50 N·m"), Angles: []quantity.Quantity{q("60°")}})
	if err == nil {
		t.Error("a spec without a snug window was judged")
	}
}

// Source: trade.md 4.3, worked example, workshop paper, invented demo values.
func TestStretch(t *testing.T) {
	hub, err := ParseThread("M14x1.5")
	if err != nil {
		t.Fatal(err)
	}
	for angle, want := range map[string]string{"60°": "0.25 mm", "10°": "0.0417 mm", "360°": "1.5 mm"} {
		got, err := Stretch(hub, q(angle))
		if err != nil {
			t.Fatal(err)
		}
		diff(t, q(want), got)
	}
	_, err = Stretch(Thread{}, q("60°"))
	refused(t, err, "the thread pitch is missing")
	_, err = Stretch(hub, q("-60°"))
	refused(t, err, "no minus sign")
}
