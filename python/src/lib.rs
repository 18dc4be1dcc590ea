//! Python door.
