"""How a phone comes to trust this laptop: the authority's certificate, and what to tap."""

from __future__ import annotations

import html

from fastapi import APIRouter, HTTPException
from fastapi.responses import FileResponse, Response

from nextpair.web.pages import plain_page
from nextpair.web.visitor import Here

router = APIRouter(include_in_schema=False)
MEDIA_TYPE = "application/x-x509-ca-cert"
STEPS = """
<h1>Let this phone trust your laptop</h1>
<p>Needed once, so that the page works without a network. It lets the phone believe certificates
that your laptop makes, for names and numbers of home networks only. Do this for a laptop of your
own, on a network of your own; undo it when you stop using it.</p>
<h2>First compare</h2>
<p>Your laptop shows a fingerprint where <code>nextpair serve --tls</code> was started, and your
phone shows one before or after it installs the certificate (under its details, as SHA-256). They
must be the same as here:</p>
<p><code>{fingerprint}</code></p>
<p>If they are not, stop: somebody stands between the two.</p>
<h2>iPhone and iPad</h2>
<ol>
<li>Open <a href="/ca.crt">the certificate</a> in Safari and allow the download.</li>
<li>Settings, General, VPN &amp; Device Management: choose the profile and install it.</li>
<li>Settings, General, About, Certificate Trust Settings: switch it on.</li>
</ol>
<h2>Android</h2>
<ol>
<li>Download <a href="/ca.crt">the certificate</a>.</li>
<li>Settings, Security, Encryption &amp; credentials, Install a certificate, CA certificate. The
names differ a little from phone to phone; to search settings for &ldquo;certificate&rdquo;
helps.</li>
<li>Choose the file that was downloaded. The phone will say that its owner can be watched: by
whoever has the key, which is your laptop alone.</li>
</ol>
<h2>Then</h2>
<p>Close this page, open <a href="/lanes/">the page for the lanes</a>, and add it to your home
screen from the browser's menu.</p>
<h2>To undo it</h2>
<p>Remove the profile or certificate in the same settings. On the laptop,
<code>nextpair trust remove</code> deletes the authority and its key.</p>
"""


@router.get("/trust")
def trust(home: Here) -> Response:
    """What to tap, in plain HTML: the phone trusts nothing of ours yet."""
    if home.certificates is None:
        raise HTTPException(404, "no certificate of our own: serve with --tls")
    return plain_page(
        "Trust this laptop", STEPS.format(fingerprint=html.escape(home.certificates.fingerprint))
    )


@router.get("/ca.crt")
def authority(home: Here) -> Response:
    """The authority's certificate, for whoever asks: it is no secret."""
    if home.certificates is None:
        raise HTTPException(404, "no certificate of our own: serve with --tls")
    return FileResponse(
        home.certificates.authority, media_type=MEDIA_TYPE, filename="nextpair.crt"
    )
