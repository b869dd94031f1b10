//! Pictures of cars: the demonstration cars, arrangements that none of them has, cars at the ends of what can be, and
//! random ones.

mod cars;
mod drawn;
mod figures_beside;
mod looked_at;
mod rules;
mod seen;
