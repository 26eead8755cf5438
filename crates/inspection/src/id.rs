//! Identities of things in the record: plain text, each with a type of its own.

macro_rules! identities {
    ($($(#[$doc:meta])* $name:ident),+ $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub String);

        impl $name {
            /// The identity as text.
            #[must_use]
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl From<&str> for $name {
            fn from(text: &str) -> Self {
                Self(text.to_owned())
            }
        }

        impl From<String> for $name {
            fn from(text: String) -> Self {
                Self(text)
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                formatter.write_str(&self.0)
            }
        }

        impl std::borrow::Borrow<str> for $name {
            fn borrow(&self) -> &str {
                &self.0
            }
        }
    )+};
}

identities! {
    /// A point's id in the plan, such as `regulator_lockup`.
    PointId,
    /// One reading.
    ReadingId,
    /// One recorded finding.
    FindingId,
    /// A photo: the SHA-256 of its original file, in lower-case hexadecimal.
    PhotoId,
    /// A voice memo: the SHA-256 of its recording, in lower-case hexadecimal.
    MemoId,
    /// One instrument of the inspector.
    InstrumentId,
    /// One unattended span.
    WaitId,
    /// One consent of the client.
    ConsentId,
    /// The hash of a change of the record, in lower-case hexadecimal.
    ChangeHash,
}
