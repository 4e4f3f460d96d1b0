"""The part of the public GPX 1.1 schema that our files use, for validation by xmlschema."""

from __future__ import annotations

GPX = "http://www.topografix.com/GPX/1/1"

# What the schema of GPX 1.1 (topografix.com/GPX/1/1/gpx.xsd, read) says of the elements that may
# stand in our files, written anew: their order, their types and the bounds of positions.
_WORDS = "".join(
    f'<xs:element name="{name}" type="xs:string" minOccurs="0"/>'
    for name in ("name", "cmt", "desc", "src")
)
_LINK = '<xs:element name="link" type="linkType" minOccurs="0" maxOccurs="unbounded"/>'
_EXTRA = '<xs:element name="extensions" type="extensionsType" minOccurs="0"/>'
_NUMBER = (
    '<xs:element name="number" type="xs:nonNegativeInteger" minOccurs="0"/>'
    '<xs:element name="type" type="xs:string" minOccurs="0"/>'
)


def _many(name: str, kind: str) -> str:
    return f'<xs:element name="{name}" type="{kind}" minOccurs="0" maxOccurs="unbounded"/>'


SCHEMA = f"""<xs:schema xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns="{GPX}"
 targetNamespace="{GPX}" elementFormDefault="qualified">
<xs:element name="gpx"><xs:complexType><xs:sequence>
 <xs:element name="metadata" type="metadataType" minOccurs="0"/>
 {_many("wpt", "wptType")}{_many("rte", "rteType")}{_many("trk", "trkType")}{_EXTRA}
</xs:sequence><xs:attribute name="version" type="xs:string" use="required" fixed="1.1"/>
<xs:attribute name="creator" type="xs:string" use="required"/></xs:complexType></xs:element>
<xs:complexType name="metadataType"><xs:sequence>
 <xs:element name="name" type="xs:string" minOccurs="0"/>
 <xs:element name="desc" type="xs:string" minOccurs="0"/>{_LINK}
 <xs:element name="time" type="xs:dateTime" minOccurs="0"/>
 <xs:element name="keywords" type="xs:string" minOccurs="0"/>{_EXTRA}
</xs:sequence></xs:complexType>
<xs:complexType name="linkType"><xs:sequence/>
 <xs:attribute name="href" type="xs:anyURI" use="required"/></xs:complexType>
<xs:complexType name="wptType"><xs:sequence>
 <xs:element name="ele" type="xs:decimal" minOccurs="0"/>
 <xs:element name="time" type="xs:dateTime" minOccurs="0"/>{_WORDS}{_LINK}
 <xs:element name="sym" type="xs:string" minOccurs="0"/>
 <xs:element name="type" type="xs:string" minOccurs="0"/>{_EXTRA}
</xs:sequence><xs:attribute name="lat" type="latitudeType" use="required"/>
<xs:attribute name="lon" type="longitudeType" use="required"/></xs:complexType>
<xs:complexType name="rteType"><xs:sequence>
 {_WORDS}{_LINK}{_NUMBER}{_EXTRA}{_many("rtept", "wptType")}</xs:sequence></xs:complexType>
<xs:complexType name="trkType"><xs:sequence>
 {_WORDS}{_LINK}{_NUMBER}{_EXTRA}{_many("trkseg", "trksegType")}</xs:sequence></xs:complexType>
<xs:complexType name="trksegType"><xs:sequence>
 {_many("trkpt", "wptType")}{_EXTRA}</xs:sequence></xs:complexType>
<xs:complexType name="extensionsType"><xs:sequence>
 <xs:any namespace="##other" processContents="lax" minOccurs="0" maxOccurs="unbounded"/>
</xs:sequence></xs:complexType>
<xs:simpleType name="latitudeType"><xs:restriction base="xs:decimal">
 <xs:minInclusive value="-90.0"/><xs:maxInclusive value="90.0"/></xs:restriction></xs:simpleType>
<xs:simpleType name="longitudeType"><xs:restriction base="xs:decimal">
 <xs:minInclusive value="-180.0"/><xs:maxExclusive value="180.0"/></xs:restriction></xs:simpleType>
</xs:schema>"""
