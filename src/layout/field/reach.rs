//! The table of fields: one line gives a number its name, its path, its quantity, its range and its place.

/// A number that can be changed in place.
#[derive(Debug, PartialEq)]
pub enum NumberSlot<'a> {
    /// A number that must be given.
    Number(&'a mut f64),
    /// A number that may be left out.
    Optional(&'a mut Option<f64>),
    /// A whole number.
    Count(&'a mut u32),
}

/// A value that a field can hold.
pub(super) trait FieldValue {
    /// The number; none where it is left out.
    fn read(&self) -> Option<f64>;
    /// The number to change in place.
    fn slot(&mut self) -> NumberSlot<'_>;
}

impl FieldValue for f64 {
    fn read(&self) -> Option<f64> {
        Some(*self)
    }

    fn slot(&mut self) -> NumberSlot<'_> {
        NumberSlot::Number(self)
    }
}

impl FieldValue for Option<f64> {
    fn read(&self) -> Option<f64> {
        *self
    }

    fn slot(&mut self) -> NumberSlot<'_> {
        NumberSlot::Optional(self)
    }
}

impl FieldValue for u32 {
    fn read(&self) -> Option<f64> {
        Some(f64::from(*self))
    }

    fn slot(&mut self) -> NumberSlot<'_> {
        NumberSlot::Count(self)
    }
}

/// Follows the place of a number from its part, to read it (`get`) or to change it (`set`): `.field`, `?` through an
/// option, `[index]` into a list, `(Enum::Variant => field)` into a variant. Returns none where the way ends.
macro_rules! reach {
    (get $at:expr; . $field:ident $($rest:tt)*) => { reach!(get &$at.$field; $($rest)*) };
    (set $at:expr; . $field:ident $($rest:tt)*) => { reach!(set &mut $at.$field; $($rest)*) };
    (get $at:expr; ? $($rest:tt)*) => { reach!(get ($at).as_ref()?; $($rest)*) };
    (set $at:expr; ? $($rest:tt)*) => { reach!(set ($at).as_mut()?; $($rest)*) };
    (get $at:expr; [$index:ident] $($rest:tt)*) => { reach!(get ($at).get($index)?; $($rest)*) };
    (set $at:expr; [$index:ident] $($rest:tt)*) => { reach!(set ($at).get_mut($index)?; $($rest)*) };
    ($way:ident $at:expr; ($variant:path => $field:ident) $($rest:tt)*) => {
        reach!($way match $at { $variant { $field, .. } => $field, _ => return None }; $($rest)*)
    };
    ($way:ident $at:expr; ($variant:path => ($field:ident)) $($rest:tt)*) => {
        reach!($way match $at { $variant($field) => $field, _ => return None }; $($rest)*)
    };
    ($way:ident $at:expr;) => { $at };
}

/// An index in a variant.
macro_rules! index {
    ($name:ident) => {
        usize
    };
}

/// Defines the fields of one kind of part from a table. A line is: the variant with its indices, the path in a file
/// with `{}` for each index, the quantity, the range, the place in the part.
macro_rules! fields {
    ($(#[$doc:meta])* $name:ident of $part:ty {
        $($(#[$line:meta])* $variant:ident $(($($index:ident),+))? $path:literal $quantity:ident $range:ident [$($place:tt)+];)+
    }) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum $name {
            $($(#[$line])* $variant $(($(index!($index)),+))?),+
        }

        impl $name {
            /// What it measures, for display.
            pub fn quantity(self) -> Quantity {
                match self {
                    $($name::$variant { .. } => Quantity::$quantity),+
                }
            }

            /// The range that it must be in.
            pub fn range(self) -> &'static Range {
                match self {
                    $($name::$variant { .. } => &range::$range),+
                }
            }

            /// Its path in a file.
            pub fn path(self) -> String {
                match self {
                    $($name::$variant $(($($index),+))? => format!($path $($(, $index)+)?)),+
                }
            }

            /// The field with this path in a file.
            pub(super) fn parse(path: &str) -> Option<$name> {
                $(if let Some(found) = indices(path, $path)
                    && let [$($($index),+)?] = *found.as_slice()
                {
                    return Some($name::$variant $(($($index),+))?);
                })+
                None
            }

            /// The number, SI; none where it is left out or has no place in this part.
            pub fn get(self, part: &$part) -> Option<f64> {
                match self {
                    $($name::$variant $(($($index),+))? => reach!(get part; $($place)+).read()),+
                }
            }

            /// The number to change in place; none where it has no place in this part.
            pub fn slot(self, part: &mut $part) -> Option<NumberSlot<'_>> {
                match self {
                    $($name::$variant $(($($index),+))? => Some(reach!(set part; $($place)+).slot())),+
                }
            }
        }
    };
}

pub(super) use {fields, index, reach};
