//! The program as a process of its own, for tests that kill it, cut its memory or its disk, or weigh it.
fn main() -> std::process::ExitCode {
    tankwright_cli::start()
}
