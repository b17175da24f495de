"""How does the XML get into the PDF the way the Factur-X and ZUGFeRD profile asks?

What is done: PDF/A-3a is asked for, fonts are embedded, the XML is attached as an alternative, the
catalogue lists it once, the metadata name the profile. No validator of PDF/A has said that it conforms.
"""

from __future__ import annotations

import io

from jobs.paper_pdf import draw_pdf

XML_NAME = "factur-x.xml"
NAMESPACE = "urn:factur-x:pdfa:CrossIndustryDocument:invoice:1p0#"
PROFILE = "EN 16931"


def invoice_pdf(html: str, xml: bytes, *, title: str) -> bytes:
    """The invoice drawn, with its XML attached. Slow: keep it out of transactions."""
    from weasyprint import Attachment  # slow import

    attached = Attachment(
        string=xml.decode(),
        name=XML_NAME,
        description="The invoice as EN 16931 XML",
        relationship="Alternative",
    )
    return _described(draw_pdf(html, attachments=[attached], pdf_variant="pdf/a-3a"))


def _described(pdf: bytes) -> bytes:
    """WeasyPrint lists the attachment twice and names no profile; both are put right here."""
    import pikepdf  # slow import

    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(pdf)) as document:
        listed = document.Root.AF
        document.Root.AF = pikepdf.Array([listed[0]])
        with document.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
            metadata.register_xml_namespace(NAMESPACE, "fx")
            metadata[f"{{{NAMESPACE}}}DocumentType"] = "INVOICE"
            metadata[f"{{{NAMESPACE}}}DocumentFileName"] = XML_NAME
            metadata[f"{{{NAMESPACE}}}Version"] = "1.0"
            metadata[f"{{{NAMESPACE}}}ConformanceLevel"] = PROFILE
        document.save(out, deterministic_id=True)
    return out.getvalue()
