//! What every request passes through, from the outside in: recorded, kept from failing badly, admitted.

pub mod admit;
pub mod identity;
pub mod rate;
pub mod record;
pub mod settle;
