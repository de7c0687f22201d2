//! A float whose mathematics is `libm`'s, whatever the platform or the other crates of the build do.
//!
//! `rand_distr` is generic over `num_traits::Float`. Asked for [`Pinned`] numbers it takes every logarithm, power and
//! exponential from here, so a draw has the same bits on any machine, and `cargo test -p` draws what
//! `cargo test --workspace` draws. Its two table-driven samplers (standard normal, standard exponential) reach for the
//! platform's `exp` and `ln` directly, so those two are drawn here by inversion and by Box and Muller's transform.

use std::num::FpCategory;
use std::ops::{Add, Div, Mul, Neg, Rem, Sub};

use num_traits::{Float, Num, NumCast, One, ToPrimitive, Zero};
use rand::distr::{Distribution, Open01, OpenClosed01, StandardUniform};
use rand::{Rng, RngExt};
use rand_distr::{Exp1, StandardNormal};

/// An `f64` whose mathematics is `libm`'s.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub(crate) struct Pinned(pub(crate) f64);

macro_rules! operators {
    ($($op:ident $method:ident),*) => {$(
        impl $op for Pinned {
            type Output = Pinned;
            fn $method(self, other: Pinned) -> Pinned {
                Pinned($op::$method(self.0, other.0))
            }
        }
    )*};
}
operators!(Add add, Sub sub, Mul mul, Div div, Rem rem);

impl Neg for Pinned {
    type Output = Pinned;
    fn neg(self) -> Pinned {
        Pinned(-self.0)
    }
}

impl Zero for Pinned {
    fn zero() -> Pinned {
        Pinned(0.0)
    }
    fn is_zero(&self) -> bool {
        self.0 == 0.0
    }
}

impl One for Pinned {
    fn one() -> Pinned {
        Pinned(1.0)
    }
}

impl Num for Pinned {
    type FromStrRadixErr = <f64 as Num>::FromStrRadixErr;
    fn from_str_radix(text: &str, radix: u32) -> Result<Pinned, Self::FromStrRadixErr> {
        f64::from_str_radix(text, radix).map(Pinned)
    }
}

impl ToPrimitive for Pinned {
    fn to_i64(&self) -> Option<i64> {
        self.0.to_i64()
    }
    fn to_u64(&self) -> Option<u64> {
        self.0.to_u64()
    }
    fn to_f64(&self) -> Option<f64> {
        Some(self.0)
    }
}

impl NumCast for Pinned {
    fn from<T: ToPrimitive>(number: T) -> Option<Pinned> {
        number.to_f64().map(Pinned)
    }
}

/// What rounds the same everywhere is left to the language; the rest is `libm`'s.
macro_rules! float {
    (constants: $($constant:ident = $value:expr),*; asks: $($ask:ident -> $answer:ty),*; own: $($own:ident),*;
     libm: $($method:ident = $function:path),*; libm2: $($method2:ident = $function2:path),*) => {
        impl Float for Pinned {
            $(fn $constant() -> Pinned { Pinned($value) })*
            $(fn $ask(self) -> $answer { self.0.$ask() })*
            $(fn $own(self) -> Pinned { Pinned(self.0.$own()) })*
            $(fn $method(self) -> Pinned { Pinned($function(self.0)) })*
            $(fn $method2(self, other: Pinned) -> Pinned { Pinned($function2(self.0, other.0)) })*
            fn mul_add(self, a: Pinned, b: Pinned) -> Pinned { Pinned(libm::fma(self.0, a.0, b.0)) }
            fn powi(self, n: i32) -> Pinned { Pinned(libm::pow(self.0, <f64 as From<i32>>::from(n))) }
            fn log(self, base: Pinned) -> Pinned { Pinned(libm::log(self.0) / libm::log(base.0)) }
            fn sin_cos(self) -> (Pinned, Pinned) { (self.sin(), self.cos()) }
            fn integer_decode(self) -> (u64, i16, i8) { Float::integer_decode(self.0) }
        }
    };
}
float! {
    constants: nan = f64::NAN, infinity = f64::INFINITY, neg_infinity = f64::NEG_INFINITY, neg_zero = -0.0,
        min_value = f64::MIN, min_positive_value = f64::MIN_POSITIVE, max_value = f64::MAX;
    asks: is_nan -> bool, is_infinite -> bool, is_finite -> bool, is_normal -> bool, classify -> FpCategory,
        is_sign_positive -> bool, is_sign_negative -> bool;
    own: floor, ceil, round, trunc, fract, abs, signum, recip, sqrt;
    libm: exp = libm::exp, exp2 = libm::exp2, ln = libm::log, log2 = libm::log2, log10 = libm::log10,
        cbrt = libm::cbrt, sin = libm::sin, cos = libm::cos, tan = libm::tan, asin = libm::asin, acos = libm::acos,
        atan = libm::atan, exp_m1 = libm::expm1, ln_1p = libm::log1p, sinh = libm::sinh, cosh = libm::cosh,
        tanh = libm::tanh, asinh = libm::asinh, acosh = libm::acosh, atanh = libm::atanh;
    libm2: powf = libm::pow, max = libm::fmax, min = libm::fmin, abs_sub = libm::fdim, hypot = libm::hypot,
        atan2 = libm::atan2
}

macro_rules! uniforms {
    ($($kind:ident),*) => {$(
        impl Distribution<Pinned> for $kind {
            fn sample<R: Rng + ?Sized>(&self, rng: &mut R) -> Pinned {
                Pinned(rng.sample($kind))
            }
        }
    )*};
}
uniforms!(Open01, OpenClosed01, StandardUniform);

impl Distribution<Pinned> for Exp1 {
    fn sample<R: Rng + ?Sized>(&self, rng: &mut R) -> Pinned {
        let u: f64 = rng.sample(OpenClosed01);
        Pinned(-libm::log(u))
    }
}

impl Distribution<Pinned> for StandardNormal {
    fn sample<R: Rng + ?Sized>(&self, rng: &mut R) -> Pinned {
        let u: f64 = rng.sample(OpenClosed01);
        let turn: f64 = rng.sample(StandardUniform);
        Pinned((-2.0 * libm::log(u)).sqrt() * libm::cos(std::f64::consts::TAU * turn))
    }
}
