//! `springwright calculate NAME FILE`.

use std::io::Read as _;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::{OWN_FAILURE, REFUSED, failed, print};
use springwright_contract::Problem;
use springwright_contract::answer;
use springwright_contract::reading::Amounts;

#[derive(Args)]
pub(super) struct Calculate {
    /// Name of the calculation, such as "blend".
    name: String,
    /// File with the request, or "-" for standard input.
    file: PathBuf,
    /// Print the answer as JSON, exactly as the service gives it.
    #[arg(long)]
    json: bool,
}

impl Calculate {
    pub(super) fn run(self) -> ExitCode {
        let body = match self.body() {
            Ok(body) => body,
            Err(error) => return failed(format!("{} cannot be read: {error}", self.file.display())),
        };
        match answer::calculate(&self.name, &body, Amounts::Expressions) {
            Ok(answer) if self.json => print(&format!("{answer}\n")),
            Ok(answer) => match crate::sheet::of(&self.name, &answer) {
                Ok(sheet) => print(&sheet),
                Err(error) => failed(error),
            },
            Err(problem) => self.refused(&problem),
        }
    }

    fn body(&self) -> std::io::Result<Vec<u8>> {
        if self.file.as_os_str() != "-" {
            return std::fs::read(&self.file);
        }
        let mut body = Vec::new();
        std::io::stdin().lock().read_to_end(&mut body)?;
        Ok(body)
    }

    fn refused(&self, problem: &Problem) -> ExitCode {
        if self.json {
            print(&format!("{}\n", problem.to_json()));
        } else {
            eprintln!("{problem}");
        }
        let code = if problem.status >= 500 { OWN_FAILURE } else { REFUSED };
        code.into()
    }
}
