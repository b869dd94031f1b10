//! Checks on the house itself: that ARCHITECTURE.md lists the rooms there are, that imports only point down, that the
//! physics can reach no file, socket or clock, and that every licence is one we may ship under. All of it is tests.
