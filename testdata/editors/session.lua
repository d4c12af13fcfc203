-- A session of a real client with "glassbrief serve-editor". Run with:
-- nvim --headless -u NONE -n FILE -c "luafile session.lua"; GLASSBRIEF names the program.
-- Prints what the client got as JSON.
local got = {}
local program = os.getenv("GLASSBRIEF")

local function finish(fault)
  got.fault = fault
  io.stdout:write(vim.fn.json_encode(got))
  vim.cmd("qall!")
end

local function wait(what, until_true)
  if not vim.wait(120000, until_true, 20) then
    finish("nothing came: " .. what)
  end
end

local buffer = vim.api.nvim_get_current_buf()
local client = vim.lsp.start_client({
  name = "glassbrief",
  cmd = { program, "serve-editor" },
  root_dir = vim.fn.getcwd(),
  on_exit = function(code, signal)
    got.exit = code + signal
  end,
})
vim.lsp.buf_attach_client(buffer, client)
wait("initialize", function()
  return vim.lsp.buf_get_clients(buffer)[client] ~= nil
end)
got.filetype = vim.bo.filetype

local function diagnostics()
  local list = {}
  for _, d in ipairs(vim.diagnostic.get(buffer)) do
    table.insert(list, string.format("%d:%d %s", d.lnum, d.col, d.code or d.user_data.lsp.code))
  end
  return list
end

local function request(method, row, column)
  local params = {
    textDocument = { uri = vim.uri_from_bufnr(buffer) },
    position = { line = row, character = column },
    options = { tabSize = 2, insertSpaces = true },
  }
  local answers = vim.lsp.buf_request_sync(buffer, method, params, 20000)
  local answer = answers and answers[client]
  if not answer then
    finish("nothing came: " .. method)
  end
  return answer.result
end

local function find(text)
  for row, line in ipairs(vim.api.nvim_buf_get_lines(buffer, 0, -1, false)) do
    local column = line:find(text, 1, true)
    if column then
      return row - 1, column - 1
    end
  end
  finish("the text lacks " .. text)
end

-- A fault as it is typed, and its going.
local row = find("  distance")
local whole = vim.api.nvim_buf_get_lines(buffer, row, row + 1, false)
vim.api.nvim_buf_set_lines(buffer, row, row + 1, false, { "  distance  2 // ä" })
wait("a finding", function()
  return #vim.diagnostic.get(buffer) > 0
end)
got.typed = diagnostics()
vim.api.nvim_buf_set_lines(buffer, row, row + 1, false, whole)
wait("the finding's going", function()
  return #vim.diagnostic.get(buffer) == 0
end)

-- What a lens is, and what may stand in its place.
local lens_row, lens_column = find('"Wide 18"')
got.hover = request("textDocument/hover", lens_row, lens_column + 2).contents.value
got.completion = {}
for _, item in ipairs(request("textDocument/completion", lens_row, lens_column + 2).items) do
  table.insert(got.completion, item.label)
end
local shot_row, shot_column = find('shot "1A" lens')
got.definition = request("textDocument/definition", shot_row, shot_column + 6).range.start.line

-- The client's own formatting command.
vim.lsp.buf.formatting_sync(nil, 20000)
got.formatted = vim.api.nvim_buf_get_lines(buffer, 0, -1, false)

vim.lsp.stop_client(client)
wait("the end of the server", function()
  return got.exit ~= nil
end)
finish(nil)
