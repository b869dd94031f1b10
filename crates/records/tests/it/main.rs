//! Records from the outside: real folders, real files, real processes that are killed while they write.

#[cfg(test)]
mod aid;
#[cfg(test)]
mod answers;
#[cfg(test)]
mod any;
#[cfg(test)]
mod book;
#[cfg(test)]
mod book_crowd;
#[cfg(test)]
mod book_damage;
#[cfg(test)]
mod book_file;
#[cfg(test)]
mod book_killed;
#[cfg(test)]
mod book_stored;
#[cfg(test)]
mod cars;
#[cfg(test)]
mod child;
#[cfg(test)]
mod disks;
#[cfg(test)]
mod names;
#[cfg(test)]
mod outputs;
#[cfg(test)]
mod power;
#[cfg(test)]
mod saves;
#[cfg(test)]
mod saves_killed;
#[cfg(test)]
mod shelves;
