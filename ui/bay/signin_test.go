package bay

import "testing"

func TestSignInByIDAndNumber(t *testing.T) {
	f, now := workshop(t)
	r := start(t, f, now)
	r.both("signin")
	r.signIn(tarik)
	r.sees("Tarik Sand, mechanic")
	r.both("jobs-empty")

	r = start(t, f, now)
	r.keys("1 Enter")
	r.sees("Personal code of Frida Holm")
	r.keys("Enter")
	r.sees("Type the personal code first")
	r.type_("9999")
	r.keys("Enter")
	r.sees("wrong")
	if r.m.env.SignedIn() {
		t.Fatal("a wrong code signs in")
	}
}
