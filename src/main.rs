//! The program: arguments in, exit status out. Everything else is in the rooms of the library.

fn main() -> std::process::ExitCode {
    tellshelf::cli::run()
}
