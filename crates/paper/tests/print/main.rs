//! Pages as they come out of a printer: scale measured on pictures, words where they are seen, text that can be found.

mod files;
mod flow;
mod picture;
mod scale;
mod tools;
