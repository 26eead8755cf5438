//! The forms of a time stamp: request, response and token in ASN.1, as RFC 3161 and RFC 5652 write them.
//!
//! The library `x509-tsp` has them too, but takes no time with a fraction of a second, which RFC 3161 (2.4.2) allows and
//! services send; and `cms` would write certificates anew, while a signature stands on their own bytes.

use cms::content_info::{CmsVersion, ContentInfo};
use cms::signed_data::{EncapsulatedContentInfo, SignerInfo};
use der::asn1::{BitString, Int, ObjectIdentifier, OctetString, SetOfVec};
use der::{Any, Sequence};
use x509_cert::ext::Extensions;
use x509_cert::spki::AlgorithmIdentifierOwned;

/// Object identifiers, each with where it is defined.
pub(super) mod oid {
    use der::asn1::ObjectIdentifier;

    const fn oid(text: &str) -> ObjectIdentifier {
        ObjectIdentifier::new_unwrap(text)
    }

    /// RFC 5652, 5.1.
    pub(in crate::time_stamp) const SIGNED_DATA: ObjectIdentifier = oid("1.2.840.113549.1.7.2");
    /// RFC 3161, 2.4.2.
    pub(in crate::time_stamp) const TIME_STAMP_INFO: ObjectIdentifier =
        oid("1.2.840.113549.1.9.16.1.4");
    /// RFC 5652, 11.1.
    pub(in crate::time_stamp) const CONTENT_TYPE: ObjectIdentifier = oid("1.2.840.113549.1.9.3");
    /// RFC 5652, 11.2.
    pub(in crate::time_stamp) const MESSAGE_DIGEST: ObjectIdentifier = oid("1.2.840.113549.1.9.4");
    /// RFC 2634, 5.4: the certificate named by its SHA-1.
    pub(in crate::time_stamp) const SIGNING_CERTIFICATE: ObjectIdentifier =
        oid("1.2.840.113549.1.9.16.2.12");
    /// RFC 5035, 3: the certificate named by another hash.
    pub(in crate::time_stamp) const SIGNING_CERTIFICATE_V2: ObjectIdentifier =
        oid("1.2.840.113549.1.9.16.2.47");
    /// RFC 3161, 2.3.
    pub(in crate::time_stamp) const TIME_STAMPING: ObjectIdentifier = oid("1.3.6.1.5.5.7.3.8");
    /// RFC 5754, 2.
    pub(in crate::time_stamp) const SHA_256: ObjectIdentifier = oid("2.16.840.1.101.3.4.2.1");
    pub(in crate::time_stamp) const SHA_384: ObjectIdentifier = oid("2.16.840.1.101.3.4.2.2");
    pub(in crate::time_stamp) const SHA_512: ObjectIdentifier = oid("2.16.840.1.101.3.4.2.3");
    /// RFC 8017, appendix C: the key, and its signatures.
    pub(in crate::time_stamp) const RSA: ObjectIdentifier = oid("1.2.840.113549.1.1.1");
    pub(in crate::time_stamp) const RSA_PSS: ObjectIdentifier = oid("1.2.840.113549.1.1.10");
    pub(in crate::time_stamp) const RSA_SHA_256: ObjectIdentifier = oid("1.2.840.113549.1.1.11");
    pub(in crate::time_stamp) const RSA_SHA_384: ObjectIdentifier = oid("1.2.840.113549.1.1.12");
    pub(in crate::time_stamp) const RSA_SHA_512: ObjectIdentifier = oid("1.2.840.113549.1.1.13");
    /// RFC 5480, 2.1.1; RFC 5758, 3.2.
    pub(in crate::time_stamp) const EC: ObjectIdentifier = oid("1.2.840.10045.2.1");
    pub(in crate::time_stamp) const P_256: ObjectIdentifier = oid("1.2.840.10045.3.1.7");
    pub(in crate::time_stamp) const P_384: ObjectIdentifier = oid("1.3.132.0.34");
    pub(in crate::time_stamp) const ECDSA_SHA_256: ObjectIdentifier = oid("1.2.840.10045.4.3.2");
    pub(in crate::time_stamp) const ECDSA_SHA_384: ObjectIdentifier = oid("1.2.840.10045.4.3.3");
    /// RFC 8410, 3.
    pub(in crate::time_stamp) const ED25519: ObjectIdentifier = oid("1.3.101.112");
}

/// What is to be stamped: a hash (RFC 3161, 2.4.1).
#[derive(Clone, Debug, PartialEq, Eq, Sequence)]
pub(super) struct Imprint {
    pub(super) algorithm: AlgorithmIdentifierOwned,
    pub(super) hash: OctetString,
}

/// `TimeStampReq` (RFC 3161, 2.4.1).
#[derive(Clone, Debug, PartialEq, Eq, Sequence)]
pub(super) struct Request {
    pub(super) version: u8,
    pub(super) imprint: Imprint,
    #[asn1(optional = "true")]
    pub(super) policy: Option<ObjectIdentifier>,
    #[asn1(optional = "true")]
    pub(super) nonce: Option<Int>,
    /// Whether the answer is to bring the service's certificates.
    #[asn1(default = "Default::default")]
    pub(super) certificates: bool,
}

/// `TimeStampResp` (RFC 3161, 2.4.2).
#[derive(Clone, Debug, PartialEq, Eq, Sequence)]
pub(super) struct Response {
    pub(super) status: Status,
    #[asn1(optional = "true")]
    pub(super) token: Option<ContentInfo>,
}

/// `PKIStatusInfo` (RFC 3161, 2.4.2).
#[derive(Clone, Debug, PartialEq, Eq, Sequence)]
pub(super) struct Status {
    pub(super) status: u8,
    #[asn1(optional = "true")]
    pub(super) words: Option<Vec<String>>,
    #[asn1(optional = "true")]
    pub(super) failure: Option<BitString>,
}

/// `TSTInfo` (RFC 3161, 2.4.2).
#[derive(Clone, Debug, PartialEq, Eq, Sequence)]
pub(super) struct Info {
    pub(super) version: u8,
    pub(super) policy: ObjectIdentifier,
    pub(super) imprint: Imprint,
    pub(super) serial: Int,
    /// A `GeneralizedTime` that may have a fraction.
    pub(super) time: Any,
    #[asn1(optional = "true")]
    pub(super) accuracy: Option<Accuracy>,
    #[asn1(default = "Default::default")]
    pub(super) ordering: bool,
    #[asn1(optional = "true")]
    pub(super) nonce: Option<Int>,
    #[asn1(context_specific = "0", tag_mode = "EXPLICIT", optional = "true")]
    pub(super) service: Option<Any>,
    #[asn1(context_specific = "1", tag_mode = "IMPLICIT", optional = "true")]
    pub(super) extensions: Option<Extensions>,
}

/// How far the true time may be from the one stated (RFC 3161, 2.4.2).
#[derive(Clone, Debug, PartialEq, Eq, Sequence)]
pub(super) struct Accuracy {
    #[asn1(optional = "true")]
    pub(super) seconds: Option<u32>,
    #[asn1(context_specific = "0", tag_mode = "IMPLICIT", optional = "true")]
    pub(super) millis: Option<u16>,
    #[asn1(context_specific = "1", tag_mode = "IMPLICIT", optional = "true")]
    pub(super) micros: Option<u16>,
}

/// `SignedData` (RFC 5652, 5.1), its certificates as the bytes they are.
#[derive(Clone, Debug, PartialEq, Eq, Sequence)]
pub(super) struct SignedData {
    pub(super) version: CmsVersion,
    pub(super) digest_algorithms: SetOfVec<AlgorithmIdentifierOwned>,
    pub(super) content: EncapsulatedContentInfo,
    #[asn1(context_specific = "0", tag_mode = "IMPLICIT", optional = "true")]
    pub(super) certificates: Option<SetOfVec<Any>>,
    #[asn1(context_specific = "1", tag_mode = "IMPLICIT", optional = "true")]
    pub(super) revocations: Option<SetOfVec<Any>>,
    pub(super) signers: SetOfVec<SignerInfo>,
}

/// `SigningCertificate` (RFC 2634, 5.4): the signer's own certificate comes first.
#[derive(Clone, Debug, PartialEq, Eq, Sequence)]
pub(super) struct SigningCertificate {
    pub(super) certificates: Vec<NamedCertificate>,
    #[asn1(optional = "true")]
    pub(super) policies: Option<Any>,
}

/// `ESSCertID` (RFC 2634, 5.4.1) and `ESSCertIDv2` (RFC 5035, 4): a certificate by its hash.
#[derive(Clone, Debug, PartialEq, Eq, Sequence)]
pub(super) struct NamedCertificate {
    /// SHA-256 where it is left out in the second form, always SHA-1 in the first.
    #[asn1(optional = "true")]
    pub(super) algorithm: Option<AlgorithmIdentifierOwned>,
    pub(super) hash: OctetString,
    #[asn1(optional = "true")]
    pub(super) issuer: Option<Any>,
}
