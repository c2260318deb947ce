package unit

// Every type prints, reads and widens in the same way. A refused text leaves NaN
// behind, from ParseVolt as from UnmarshalText, with the error. MarshalText
// prints String, so what is not finite is written in a form nobody reads back.

// Quantity returns v with its kind.
func (v Volt) Quantity() Quantity { return Quantity{KindVolt, float64(v)} }

// String prints v as [Quantity.String] does.
func (v Volt) String() string { return v.Quantity().String() }

// MarshalText prints String.
func (v Volt) MarshalText() ([]byte, error) { return []byte(v.String()), nil }

// UnmarshalText reads as [Parse] does.
func (v *Volt) UnmarshalText(b []byte) error { return unmarshal(v, b) }

// ParseVolt reads as [Parse] does.
func ParseVolt(text string) (Volt, error) { return parse[Volt](text) }

// Quantity returns r with its kind.
func (r Ohm) Quantity() Quantity { return Quantity{KindOhm, float64(r)} }

// String prints r as [Quantity.String] does.
func (r Ohm) String() string { return r.Quantity().String() }

// MarshalText prints String.
func (r Ohm) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads as [Parse] does.
func (r *Ohm) UnmarshalText(b []byte) error { return unmarshal(r, b) }

// ParseOhm reads as [Parse] does.
func ParseOhm(text string) (Ohm, error) { return parse[Ohm](text) }

// Quantity returns i with its kind.
func (i Ampere) Quantity() Quantity { return Quantity{KindAmpere, float64(i)} }

// String prints i as [Quantity.String] does.
func (i Ampere) String() string { return i.Quantity().String() }

// MarshalText prints String.
func (i Ampere) MarshalText() ([]byte, error) { return []byte(i.String()), nil }

// UnmarshalText reads as [Parse] does.
func (i *Ampere) UnmarshalText(b []byte) error { return unmarshal(i, b) }

// ParseAmpere reads as [Parse] does.
func ParseAmpere(text string) (Ampere, error) { return parse[Ampere](text) }

// Quantity returns c with its kind.
func (c Farad) Quantity() Quantity { return Quantity{KindFarad, float64(c)} }

// String prints c as [Quantity.String] does.
func (c Farad) String() string { return c.Quantity().String() }

// MarshalText prints String.
func (c Farad) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads as [Parse] does.
func (c *Farad) UnmarshalText(b []byte) error { return unmarshal(c, b) }

// ParseFarad reads as [Parse] does.
func ParseFarad(text string) (Farad, error) { return parse[Farad](text) }

// Quantity returns p with its kind.
func (p Watt) Quantity() Quantity { return Quantity{KindWatt, float64(p)} }

// String prints p as [Quantity.String] does.
func (p Watt) String() string { return p.Quantity().String() }

// MarshalText prints String.
func (p Watt) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads as [Parse] does.
func (p *Watt) UnmarshalText(b []byte) error { return unmarshal(p, b) }

// ParseWatt reads as [Parse] does.
func ParseWatt(text string) (Watt, error) { return parse[Watt](text) }

// Quantity returns t with its kind.
func (t Celsius) Quantity() Quantity { return Quantity{KindCelsius, float64(t)} }

// String prints t as [Quantity.String] does.
func (t Celsius) String() string { return t.Quantity().String() }

// MarshalText prints String.
func (t Celsius) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads as [Parse] does.
func (t *Celsius) UnmarshalText(b []byte) error { return unmarshal(t, b) }

// ParseCelsius reads as [Parse] does.
func ParseCelsius(text string) (Celsius, error) { return parse[Celsius](text) }

// Quantity returns t with its kind.
func (t Second) Quantity() Quantity { return Quantity{KindSecond, float64(t)} }

// String prints t as [Quantity.String] does.
func (t Second) String() string { return t.Quantity().String() }

// MarshalText prints String.
func (t Second) MarshalText() ([]byte, error) { return []byte(t.String()), nil }

// UnmarshalText reads as [Parse] does.
func (t *Second) UnmarshalText(b []byte) error { return unmarshal(t, b) }

// ParseSecond reads as [Parse] does.
func ParseSecond(text string) (Second, error) { return parse[Second](text) }

// Quantity returns p with its kind.
func (p Percent) Quantity() Quantity { return Quantity{KindPercent, float64(p)} }

// String prints p as [Quantity.String] does.
func (p Percent) String() string { return p.Quantity().String() }

// MarshalText prints String.
func (p Percent) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads as [Parse] does.
func (p *Percent) UnmarshalText(b []byte) error { return unmarshal(p, b) }

// ParsePercent reads as [Parse] does.
func ParsePercent(text string) (Percent, error) { return parse[Percent](text) }

// Quantity returns l with its kind.
func (l Metre) Quantity() Quantity { return Quantity{KindMetre, float64(l)} }

// String prints l as [Quantity.String] does.
func (l Metre) String() string { return l.Quantity().String() }

// MarshalText prints String.
func (l Metre) MarshalText() ([]byte, error) { return []byte(l.String()), nil }

// UnmarshalText reads as [Parse] does.
func (l *Metre) UnmarshalText(b []byte) error { return unmarshal(l, b) }

// ParseMetre reads as [Parse] does.
func ParseMetre(text string) (Metre, error) { return parse[Metre](text) }

// Quantity returns a with its kind.
func (a SquareMetre) Quantity() Quantity { return Quantity{KindSquareMetre, float64(a)} }

// String prints a as [Quantity.String] does.
func (a SquareMetre) String() string { return a.Quantity().String() }

// MarshalText prints String.
func (a SquareMetre) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText reads as [Parse] does.
func (a *SquareMetre) UnmarshalText(b []byte) error { return unmarshal(a, b) }

// ParseSquareMetre reads as [Parse] does.
func ParseSquareMetre(text string) (SquareMetre, error) { return parse[SquareMetre](text) }

// Quantity returns f with its kind.
func (f Hertz) Quantity() Quantity { return Quantity{KindHertz, float64(f)} }

// String prints f as [Quantity.String] does.
func (f Hertz) String() string { return f.Quantity().String() }

// MarshalText prints String.
func (f Hertz) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText reads as [Parse] does.
func (f *Hertz) UnmarshalText(b []byte) error { return unmarshal(f, b) }

// ParseHertz reads as [Parse] does.
func ParseHertz(text string) (Hertz, error) { return parse[Hertz](text) }

// Quantity returns s with its kind.
func (s OhmPerVolt) Quantity() Quantity { return Quantity{KindOhmPerVolt, float64(s)} }

// String prints s as [Quantity.String] does.
func (s OhmPerVolt) String() string { return s.Quantity().String() }

// MarshalText prints String.
func (s OhmPerVolt) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads as [Parse] does.
func (s *OhmPerVolt) UnmarshalText(b []byte) error { return unmarshal(s, b) }

// ParseOhmPerVolt reads as [Parse] does.
func ParseOhmPerVolt(text string) (OhmPerVolt, error) { return parse[OhmPerVolt](text) }

// Quantity returns s with its kind.
func (s VoltAmpere) Quantity() Quantity { return Quantity{KindVoltAmpere, float64(s)} }

// String prints s as [Quantity.String] does.
func (s VoltAmpere) String() string { return s.Quantity().String() }

// MarshalText prints String.
func (s VoltAmpere) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads as [Parse] does.
func (s *VoltAmpere) UnmarshalText(b []byte) error { return unmarshal(s, b) }

// ParseVoltAmpere reads as [Parse] does.
func ParseVoltAmpere(text string) (VoltAmpere, error) { return parse[VoltAmpere](text) }

// quantity is any of the types above; its kind comes with it, so that no text
// can be read as one kind into the type of another.
type quantity interface {
	~float64
	Quantity() Quantity
}

func parse[T quantity](text string) (T, error) {
	var zero T
	x, err := Parse(zero.Quantity().Kind, text)
	return T(x), err
}

func unmarshal[T quantity](to *T, b []byte) (err error) {
	*to, err = parse[T](string(b))
	return err
}
