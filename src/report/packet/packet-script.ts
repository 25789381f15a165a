/**
 * Script of the packet, plain enough for any browser of the last ten years: one card at a time, answers kept in the page (and in
 * the browser where it allows that), the text written as answers.ts reads it.
 */
export const PACKET_SCRIPT = `
(function () {
  var facts = JSON.parse(document.getElementById('facts').textContent);
  var cards = Array.prototype.slice.call(document.querySelectorAll('.card[data-code]'));
  var end = document.getElementById('card-end');
  var store = 'retentate packet ' + facts.round + ' ' + facts.reader;
  var at = 0;
  function chosen(card, name) {
    var one = card.querySelector('input[name="' + name + '-' + card.dataset.code + '-' + card.dataset.pass + '"]:checked');
    return one ? one.value : null;
  }
  function whole(card) {
    return chosen(card, 'called') !== null && (card.dataset.guess !== 'true' || chosen(card, 'guess') !== null);
  }
  function check(text) {
    var hash = 0x811c9dc5;
    for (var k = 0; k < text.length; k++) {
      hash ^= text.charCodeAt(k);
      hash = Math.imul(hash, 0x01000193);
    }
    return ('0000000' + (hash >>> 0).toString(16)).slice(-8);
  }
  function text() {
    var lines = ['retentate answers 1', 'round ' + facts.round, 'reader ' + facts.reader, 'key ' + facts.key];
    cards.forEach(function (card) {
      if (!whole(card)) return;
      lines.push([card.dataset.code, card.dataset.pass, chosen(card, 'called'), chosen(card, 'guess') || '-'].join(' '));
    });
    return lines.concat('check ' + check(lines.join('\\n'))).join('\\n') + '\\n';
  }
  function keep() {
    try {
      localStorage.setItem(store, JSON.stringify(cards.map(function (c) { return [chosen(c, 'called'), chosen(c, 'guess')]; })));
    } catch (none) { /* The page keeps them as long as it is open. */ }
  }
  function restore() {
    try {
      JSON.parse(localStorage.getItem(store) || '[]').forEach(function (pair, k) {
        ['called', 'guess'].forEach(function (name, n) {
          var one = cards[k] && pair[n] && cards[k].querySelector('input[name^="' + name + '-"][value="' + pair[n] + '"]');
          if (one) one.checked = true;
        });
      });
    } catch (none) { /* Nothing was kept. */ }
  }
  function show() {
    cards.forEach(function (card, k) { card.hidden = k !== at; });
    end.hidden = at !== cards.length;
    var left = cards.filter(function (card) { return !whole(card); }).length;
    document.getElementById('place').textContent = at < cards.length ? 'Picture ' + (at + 1) + ' of ' + cards.length : 'All seen';
    document.getElementById('before').disabled = at === 0;
    document.getElementById('after').disabled = at === cards.length;
    document.getElementById('left').textContent = left === 0
      ? 'All pictures are answered. Thank you!'
      : left + ' of ' + cards.length + ' pictures are not answered yet; what is answered can be sent all the same.';
    document.getElementById('answers').value = text();
  }
  function go(to) {
    at = Math.max(0, Math.min(cards.length, to));
    show();
  }
  document.addEventListener('change', function () {
    keep();
    show();
    if (cards[at] && whole(cards[at])) setTimeout(function () { go(at + 1); }, 250);
  });
  document.addEventListener('keydown', function (event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === 'ArrowRight' && event.target.type !== 'radio') go(at + 1);
    else if (event.key === 'ArrowLeft' && event.target.type !== 'radio') go(at - 1);
    else if (/^[1-5]$/.test(event.key) && cards[at]) {
      var one = cards[at].querySelectorAll('input')[Number(event.key) - 1];
      if (one) one.click();
    }
  });
  document.getElementById('before').onclick = function () { go(at - 1); };
  document.getElementById('after').onclick = function () { go(at + 1); };
  document.getElementById('copy').onclick = function () {
    var area = document.getElementById('answers');
    area.select();
    document.execCommand('copy');
  };
  document.getElementById('save').onclick = function () {
    var link = document.createElement('a');
    link.href = URL.createObjectURL(new Blob([text()], { type: 'text/plain' }));
    link.download = 'answers.txt';
    link.click();
  };
  restore();
  show();
})();
`;
