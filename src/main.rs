//! The command `wythe`.

fn main() -> std::process::ExitCode {
    wythe::cli::main()
}
