//! An independent time stamp service: `openssl ts` (OpenSSL's own implementation of RFC 3161) with keys of its own.

use std::path::Path;
use std::process::Command;

use tempfile::TempDir;

/// A service with its certificates in a folder.
pub(crate) struct Authority {
    folder: TempDir,
}

/// The words by which openssl makes the keys of a service.
pub(crate) type Keys = [&'static str];

pub(crate) const P256: &Keys = &["-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256"];

impl Authority {
    /// A root, an authority under it, and the service's own certificate, valid from today for a year.
    pub(crate) fn new(keys: &Keys) -> Self {
        let new = Self { folder: tempfile::tempdir().unwrap() };
        new.write("ts.cnf", CONFIGURATION);
        let certificate = |name: &str, subject: &str, section: &str, issuer: Option<&str>| {
            let (key, file) = (format!("{name}.key"), format!("{name}.pem"));
            let mut words = vec!["req", "-x509", "-nodes", "-sha256", "-days", "365"];
            words.extend(["-config", "ts.cnf", "-extensions", section, "-subj", subject]);
            words.extend(["-keyout", &key, "-out", &file]);
            words.extend(keys);
            let issuer = issuer.map(|it| (format!("{it}.pem"), format!("{it}.key")));
            if let Some((certificate, key)) = &issuer {
                words.extend(["-CA", certificate, "-CAkey", key]);
            }
            new.openssl(&words);
        };
        certificate("root", "/O=Invented Time/CN=Invented Root", "authority", None);
        certificate("middle", "/O=Invented Time/CN=Invented Authority", "authority", Some("root"));
        certificate("service", "/O=Invented Time/CN=Invented Stamps", "service", Some("middle"));
        // A certificate that is good for something else.
        certificate("other", "/O=Invented Time/CN=Invented Mail", "other", Some("middle"));
        let chain = ["middle.pem", "root.pem"].map(|name| new.read(name)).concat();
        new.write("chain.pem", &chain);
        new
    }

    fn path(&self) -> &Path {
        self.folder.path()
    }

    pub(crate) fn write(&self, name: &str, bytes: impl AsRef<[u8]>) {
        std::fs::write(self.path().join(name), bytes).unwrap();
    }

    #[allow(clippy::disallowed_methods, reason = "a test reads what the outside program wrote")]
    pub(crate) fn read(&self, name: &str) -> Vec<u8> {
        std::fs::read(self.path().join(name)).unwrap()
    }

    /// Runs openssl in the folder; what it printed, and whether it was content.
    pub(crate) fn ask(&self, words: &[&str]) -> (String, bool) {
        let output = Command::new("openssl").args(words).current_dir(self.path()).output();
        let output =
            output.unwrap_or_else(|error| panic!("this test needs the program `openssl`: {error}"));
        let said = [output.stdout, output.stderr].concat();
        (String::from_utf8_lossy(&said).into_owned(), output.status.success())
    }

    fn openssl(&self, words: &[&str]) {
        let (said, content) = self.ask(words);
        assert!(content, "{words:?}: {said}");
    }

    /// The service's answer to a request, with the settings of a section of its configuration.
    pub(crate) fn answer(&self, request: &[u8], section: &str) -> Vec<u8> {
        self.write("request.tsq", request);
        self.openssl(&[
            "ts",
            "-reply",
            "-config",
            "ts.cnf",
            "-section",
            section,
            "-queryfile",
            "request.tsq",
            "-out",
            "answer.tsr",
        ]);
        self.read("answer.tsr")
    }
}

const CONFIGURATION: &str = "\
[req]
distinguished_name = nobody
[nobody]
[authority]
basicConstraints = critical, CA:TRUE
keyUsage = critical, keyCertSign, cRLSign
subjectKeyIdentifier = hash
[service]
basicConstraints = critical, CA:FALSE
extendedKeyUsage = critical, timeStamping
subjectKeyIdentifier = hash
[other]
basicConstraints = critical, CA:FALSE
extendedKeyUsage = emailProtection
[usual]
serial = serial
signer_cert = service.pem
certs = chain.pem
signer_key = service.key
signer_digest = sha256
default_policy = 1.2.3.4.1
other_policies = 1.2.3.4.5
digests = sha256, sha512
accuracy = secs:1, millisecs:500
clock_precision_digits = 0
ordering = yes
tsa_name = yes
ess_cert_id_alg = sha256
[plain]
serial = serial
signer_cert = service.pem
signer_key = service.key
signer_digest = sha384
default_policy = 1.2.3.4.1
digests = sha256
clock_precision_digits = 3
ess_cert_id_alg = sha1
";
